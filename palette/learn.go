package palette

import (
	"cmp"
	"math"
	"slices"
)

// Layers of native material in one photo are the same grains under the same lamp, so a photo shows the
// native colour better than the keeper's entry or any list does: any layer may be the substrate, and what
// it then makes of the others says how likely that is.

// A showing is one way to find the native colour in a photo: in one of the layers, or in none.
type showing struct {
	layer   int // nowhere: no layer is native
	color   Lab // as the photo shows it
	texture Texture
	depthMM float64 // of its middle
}

// nowhere is the layer of a showing where no layer is native.
const nowhere = -1

// showsNone is how often a photo shows nothing of the substrate (assumption).
const showsNone = 0.15

// mostShowings is in how many layers a native colour is looked for, the thickest (assumption: thin ones
// beside so many others are hardly the substrate, and a varved bed has a hundred).
const mostShowings = 10

// showings are the ways to find the native colour in a column.
func (c *Column) showings() []showing {
	var open []int
	for i := range c.Layers {
		if l := &c.Layers[i]; l.Label == NoBand || l.Label == Native {
			open = append(open, i)
		}
	}
	if len(open) > mostShowings {
		slices.SortStableFunc(open, func(a, b int) int { return cmp.Compare(c.Layers[b].ThicknessMM, c.Layers[a].ThicknessMM) })
		open = open[:mostShowings]
	}
	list := []showing{{layer: nowhere}}
	for _, i := range open {
		list = append(list, showing{i, c.Layers[i].Lab, c.Layers[i].Texture, c.Layers[i].DepthMM})
	}
	return list
}

// share is how likely one of so many showings is beforehand.
func (s showing) share(count int) float64 {
	switch {
	case count == 1:
		return 1
	case s.layer == nowhere:
		return showsNone
	}
	return (1 - showsNone) / float64(count-1)
}

// shown is the native colour as a photo shows it.
type shown struct {
	Lab
	depthMM float64 // of the middle of the layer that shows it
	weight  float64 // of it among all native colours that may lie there
}

// Layers of one native material differ in one photo by the lamp's fall-off, which is one of lightness, and by the
// tints of several lamps, which lie between blue and yellow: standard deviations, CIELAB units (assumptions, tried
// on rendered beds).
const (
	alikeLightness = 2.0
	fades          = 0.12 // in lightness for each mm between them
	alikeGreenRed  = 0.7  // more the more colourful they are, as the next
	alikeYellow    = 1.3
)

// density is how likely a colour is one of the same material, on the scale of a group's density.
func (s *shown) density(lab Lab, seen *Seen) float64 {
	hue := colourful(math.Hypot(s.A, s.B))
	light := math.Hypot(math.Hypot(alikeLightness, fades*(seen.DepthMM-s.depthMM)), seen.GrainNoise(lab.L))
	l, a, b := (lab.L-s.L)/light, (lab.A-s.A)/(alikeGreenRed*hue), (lab.B-s.B)/(alikeYellow*hue)
	return s.weight * math.Exp(-(l*l+a*a+b*b)/2) / (light * alikeGreenRed * alikeYellow)
}

// How wide a strip is, mm (assumption).
const usualStrip = 40.0

// GrainNoise is the standard deviation of a layer's mean lightness, L*, since it shows only so many grains.
func (s *Seen) GrainNoise(lightness float64) float64 {
	grains := max(1, s.ThicknessMM/ContrastMM) * usualStrip / ContrastMM
	return (lightness + 16) / 3 * s.Texture.Contrast / math.Sqrt(grains) // L* = 116 Y^(1/3) - 16
}

// inPhoto is the likelihood of every band for a layer that has a colour in a photo.
func (m *Matcher) inPhoto(color Lab, seen *Seen) [Unknown + 1]float64 {
	like := m.likelihoods(color, math.Hypot(seen.Doubt, seen.GrainNoise(color.L)))
	if m.shown != nil {
		like[Native] += m.shown.density(color, seen)
		like[Black] *= m.shown.darkens(color)
	}
	return like
}

// darkens is how likely iron sulphide leaves such a colour: it darkens whatever it coats, so black is lighter
// than the substrate only by the lamp's fall-off, and on dark substrate it has to differ.
func (s *shown) darkens(lab Lab) float64 {
	if s.L < darkLightness && Difference(lab, s.Lab) < reducedDifference {
		return besideDarkLeft
	}
	return 1 / (1 + math.Exp((lab.L-s.L-besideLight)/fallOff))
}

// Where black ends beside the native colour (assumptions).
const (
	besideLight    = 3.5  // how much lighter than the native colour it may be, L*
	fallOff        = 1.5  // how sharply it ends there, L*
	besideDarkLeft = 0.05 // share left of the likelihood of what differs less from dark substrate in its own photo
)

// A shade is by how many stops a bed looks darker than its matter, which the built-in colours are of, since
// grains shade each other, and how often that is so (assumptions: from a face of fine sand or mud to loose
// gravel).
type shade struct{ stops, share float64 }

var shades = [...]shade{{0, 0.35}, {0.5, 0.3}, {0.95, 0.35}}

// Grains that shade each other show it: per stop of shade a bed's contrast is likelier by this power of what it
// is beside a middling one (assumptions, tried on rendered beds).
const (
	shadeShows       = 3.0
	middlingContrast = 0.6
)

// shaded is how likely the shades are by the native layer's contrast.
func (s showing) shaded() (share [len(shades)]float64) {
	sum := 0.0
	for i, shade := range shades {
		share[i] = shade.share
		if s.texture != (Texture{}) {
			share[i] *= math.Pow(s.texture.Contrast/middlingContrast, shadeShows*shade.stops)
		}
		sum += share[i]
	}
	for i := range share {
		share[i] /= sum
	}
	return share
}

// laid are native groups as a bed in some shade shows them, in the light in which its other bands look as
// their matter does. What a keeper enters is read off the bed, or off dry grains or a shop's picture: each is
// as likely (assumption).
func laid(groups []group, shaded shade) (list []group) {
	lighter := lightState{ev: shaded.stops, gain: math.Exp2(shaded.stops)}
	for _, g := range groups {
		if g.band != Native {
			continue
		}
		colors := slices.Clone(g.colors)
		for _, s := range g.colors {
			colors = append(colors, spot{color: tint(lighter.relight(s.color.Lab)), variance: s.variance})
		}
		g.colors = colors
		list = append(list, g)
	}
	return list
}

// What a substrate may look like where the tank's is not known, CIELAB: a normal distribution
// (assumption: from black soil to white sand, from grey to golden).
var (
	anySubstrate       = Lab{50, 5, 14}
	anySubstrateSpread = Lab{22, 7, 11}
)

// substrate is how likely a colour is that of the tank's own substrate in some shade, on the scale of a
// group's density.
func (m *Matcher) substrate(color *tinted, doubt float64, shaded int) float64 {
	sum := mistold
	for i := range m.laid[shaded] {
		g := &m.laid[shaded][i]
		sum += g.weight * g.density(color, doubt)
	}
	if !m.ownNative {
		l, a, b := (color.L-anySubstrate.L)/anySubstrateSpread.L, (color.A-anySubstrate.A)/anySubstrateSpread.A, (color.B-anySubstrate.B)/anySubstrateSpread.B
		sum += math.Exp(-(l*l+a*a+b*b)/2) / (anySubstrateSpread.L * anySubstrateSpread.A * anySubstrateSpread.B)
	}
	return sum
}

// mistold is the least density of any colour: an entry may be wrong (assumption).
const mistold = unknownDensity / 10

// A coat lets the grains show through on a layer so often, where it covers such a share of their surface.
type coat struct {
	often  float64
	covers []float64
}

// coats are those of iron oxide, of gley and of a film on the glass, which grows in patches (assumptions).
// Sulphide that deserves its name hides the grains: thinner, it is grey.
func coats(b Band) coat {
	switch b.Material() {
	case IronOxide:
		return coat{0.1, []float64{0.75, 0.9}}
	case Gley:
		return coat{0.1, []float64{0.6, 0.8}}
	case Film:
		return coat{0.5, []float64{0.7, 0.85}}
	}
	return coat{}
}

// showing is the matcher for a photo of a bed in some shade whose native layers look like a colour.
func (m *Matcher) showing(color Lab, depthMM float64, shaded int) *Matcher {
	out := &Matcher{ownNative: m.ownNative, laid: m.laid, known: m.known}
	native := color.Linear()
	for _, g := range m.groups {
		if g.band == Native {
			continue
		}
		coat := coats(g.band)
		if coat.often == 0 || g.kind == ownKind {
			out.groups = append(out.groups, g)
			continue
		}
		coated := group{band: g.band, kind: g.kind, weight: g.weight * coat.often}
		for _, s := range g.colors {
			cover := s.color.Linear()
			for _, share := range coat.covers {
				mixed := native
				for c := range mixed {
					mixed[c] += share * (cover[c] - mixed[c])
				}
				coated.colors = append(coated.colors, spot{color: tint(mixed.Lab()), variance: s.variance})
			}
		}
		g.weight *= 1 - coat.often
		out.groups = append(out.groups, g, coated)
	}
	out.shown = &shown{color, depthMM, 1}
	if others := m.laid[shaded]; m.ownNative && len(others) > 1 { // the others may lie there too
		out.shown.weight = 0.5
		for _, g := range others {
			g.weight /= 2
			out.groups = append(out.groups, g)
		}
	}
	return out
}

// without is the matcher for a photo that shows nothing of the substrate.
func (m *Matcher) without() *Matcher {
	return &Matcher{ownNative: m.ownNative, laid: m.laid, known: m.known, groups: slices.DeleteFunc(slices.Clone(m.groups), func(g group) bool { return g.band == Native })}
}
