package palette

import (
	"cmp"
	"math"
	"slices"
)

// Doubts of a colour by where it comes from: root-mean-square CIEDE2000
// differences, added in quadrature to a prototype's spread (assumptions).
const (
	DoubtCard  = 4.0 // corrected on a neutral card
	DoubtTyped = 5.0 // typed as hex, origin unknown
)

// Baseline is a substrate's colour on set-up day.
type Baseline struct {
	Kind  string // e.g. "sand"
	Color Color
}

// ownSpread is the spread of a tank's own native colour, root mean square CIEDE2000 (assumption:
// grains from one bag differ less than sands in general).
const ownSpread = 3.5

// A native colour darker than darkLightness (L*) can look like iron sulphide; there a layer counts as
// reduced only if it differs by reducedDifference, CIEDE2000 (assumptions).
const (
	darkLightness     = 40.0
	reducedDifference = 6.0
	reducedLeft       = 0.02 // share left of the likelihood of black and grey
)

// unknownDensity is the flat likelihood of "nothing fits well", on the scale of a prototype's 1/s³:
// it wins if every prototype is about twice its spread away (assumption).
const unknownDensity = 3e-4

// Matcher finds what colours mean. Use does not change it, so it can be shared.
type Matcher struct {
	groups    []group
	shown     *shown               // where a photo shows the native colour
	laid      [len(shades)][]group // the native ones as a photo may show them in each shade
	dark      []Lab                // the tank's own dark native colours
	ownNative bool                 // the native colours are the tank's own
	known                          // from other photos of the tank
}

// group is a mixture of equally likely prototypes of one meaning.
type group struct {
	band   Band
	kind   string
	weight float64 // of the group within its band
	colors []spot
}

type spot struct {
	color    tinted
	variance float64
}

// ownKind is the kind of the keeper's own prototypes: they count as one more meaning next to the
// built-in ones of their band.
const ownKind = "own"

// NewMatcher builds a matcher from the built-in prototypes and the keeper's own. A tank's own native
// colours, if given, replace the built-in native ones.
func NewMatcher(native []Baseline, own []Prototype) *Matcher {
	return NewTaughtMatcher(native, own, Lessons{})
}

// NewTaughtMatcher is NewMatcher with what photos of the tank taught. It counts beside all else and replaces nothing:
// a native layer in a photo may be one of several substrates.
func NewTaughtMatcher(native []Baseline, own []Prototype, taught Lessons) *Matcher {
	m := &Matcher{ownNative: len(native) > 0, known: taught.known()}
	for _, p := range prototypes {
		if p.Band == Native && len(native) > 0 {
			continue
		}
		m.add(p.Band, p.Kind, p.Color.Lab(), p.Spread)
	}
	for _, n := range native {
		lab := n.Color.Lab()
		m.add(Native, n.Kind, lab, ownSpread)
		m.addDark(lab)
	}
	for _, l := range taught.Layers {
		if l.Band == Native {
			m.addDark(l.Color.Lab())
		}
	}
	for _, p := range own {
		m.add(p.Band, ownKind, p.Color.Lab(), p.Spread)
	}
	var inBand [Unknown + 1]float64
	for _, g := range m.groups {
		inBand[g.band]++
	}
	for i := range m.groups {
		m.groups[i].weight = 1 / inBand[m.groups[i].band]
	}
	for i, s := range shades {
		m.laid[i] = laid(m.groups, s)
	}
	return m
}

// addDark remembers a native colour that can look like iron sulphide.
func (m *Matcher) addDark(native Lab) {
	if native.L < darkLightness {
		m.dark = append(m.dark, native)
	}
}

// Entered reports that the keeper entered a colour of the tank's own substrate.
func (m *Matcher) Entered() bool { return m.ownNative }

func (m *Matcher) add(band Band, kind string, lab Lab, spread float64) {
	s := spot{color: tint(lab), variance: spread * spread}
	for i := range m.groups {
		if g := &m.groups[i]; g.band == band && g.kind == kind {
			g.colors = append(g.colors, s)
			return
		}
	}
	m.groups = append(m.groups, group{band: band, kind: kind, colors: []spot{s}})
}

// Meaning is a band (and, for native, a kind of substrate) that a single colour may have, with its
// probability, 0 to 1.
type Meaning struct {
	Band        Band
	Kind        string
	Probability float64
}

// Meanings ranks what a single colour may mean, the likeliest first, without its neighbours: every
// meaning is equally likely beforehand.
func (m *Matcher) Meanings(lab Lab, doubt float64) []Meaning {
	list := make([]Meaning, 0, len(m.groups)+1)
	color, sum := tint(lab), unknownDensity
	for i := range m.groups {
		g := &m.groups[i]
		p := g.density(&color, doubt)
		sum += p
		list = append(list, Meaning{g.band, g.kind, p})
	}
	for i := range m.layers[asLooks] {
		l := &m.layers[asLooks][i]
		p := l.weight * l.density(&color, doubt)
		sum += p
		list = append(list, Meaning{l.band, l.kind, p})
	}
	list = append(list, Meaning{Unknown, "", unknownDensity})
	for i := range list {
		list[i].Probability /= sum
	}
	slices.SortStableFunc(list, func(a, b Meaning) int { return cmp.Compare(b.Probability, a.Probability) })
	return list
}

// density is the mixture's likelihood of a colour: the mean over its prototypes of exp(-ΔE00²/2s²)/s³.
// Spreads and doubts are root mean squares over the three directions of colour space, so each
// direction has a third of their variance.
func (g *group) density(color *tinted, doubt float64) float64 {
	var sum float64
	for i := range g.colors {
		c := &g.colors[i]
		variance := (c.variance + doubt*doubt) / 3
		reach := negligible * variance
		if squareFloor(&c.color, color) > reach {
			continue
		}
		d := difference(&c.color, color)
		if d*d > reach {
			continue
		}
		sum += math.Exp(-d*d/(2*variance)) / (variance * math.Sqrt(variance))
	}
	return sum / float64(len(g.colors))
}

// negligible is the squared distance, in variances of one direction, beyond which a prototype adds
// less than a fiftieth of unknownDensity.
const negligible = 12.0

// likelihoods is the likelihood of every band for one colour.
func (m *Matcher) likelihoods(lab Lab, doubt float64) (like [Unknown + 1]float64) {
	color := tint(lab)
	for i := range m.groups {
		g := &m.groups[i]
		like[g.band] += g.weight * g.density(&color, doubt)
	}
	for _, dark := range m.dark {
		if Difference(dark, lab) < reducedDifference {
			like[Black] *= reducedLeft
			like[Grey] *= reducedLeft
			break
		}
	}
	like[Unknown] = unknownDensity
	return like
}
