package photo

import (
	"math"
	"slices"

	"panecore/palette"
)

// bedLayer is a layer of the bed: the edges that bound it and its colour under the
// corrected light.
type bedLayer struct {
	top, bottom int // edges; bottom is len(level) for the strip's lower end
	light       palette.Linear
	seen        float64         // share of its blocks that is not masked
	texture     float64         // variance of its blocks in lightness
	variance    float64         // of its mean colour, by how its blocks differ, CIELAB units squared per direction
	grain       palette.Texture // none: too little is seen
	given       palette.Band    // the keeper's own label; NoBand: none
}

// bed lists the layers below the surface's edge.
func (s *strata) bed() []bedLayer {
	list := make([]bedLayer, 0, len(s.level))
	for k := range s.level {
		list = append(list, s.layer(k, k+1))
	}
	return list
}

// edgeMargin is left out of a layer's colour at either edge, where it may blend into the next,
// mm; at most a quarter of the layer (assumption).
const edgeMargin = 0.6

// inner are the rows between two edges of a block that show a layer's own colour: from first up
// to but not including last.
func (f *field) inner(from, to float64) (first, last int) {
	margin := min((to-from)/4, edgeMargin/f.pitch)
	first, last = int(math.Ceil(from+margin)), int(to-margin)
	if first >= last && to-from >= 1 {
		first = int((from + to) / 2)
		last = first + 1
	}
	return max(0, first), min(f.rows, last)
}

// layer averages the light between two edges. It leaves out what differs by more than texture
// does: things lying in the bed.
func (s *strata) layer(top, bottom int) bedLayer {
	f := s.field
	l := bedLayer{top: top, bottom: bottom}
	look := s.looks[top+1]
	if bottom > top+1 {
		look = f.lookBetween(s.warp, top, bottom)
	}
	total, seen, used := 0, 0, 0
	var means []palette.Linear
	for b := range f.blocks {
		var mean palette.Linear
		before := used
		from, to := s.edge(top, b), s.edge(bottom, b)
		first, last := f.inner(from, to)
		for r := first; r < last; r++ {
			total++
			lab, ok := f.at(r, b)
			if !ok {
				continue
			}
			seen++
			if look.outlier(lab) {
				continue
			}
			used++
			light := palette.Lab{L: lab[0], A: lab[1], B: lab[2]}.Linear()
			for c := range light {
				mean[c] += light[c]
			}
		}
		if n := float64(used - before); n > 0 {
			for c := range mean {
				mean[c] /= n
			}
			means = append(means, mean)
		}
	}
	l.grain = s.grainBetween(top, bottom)
	l.light, l.variance, l.texture = middleLight(means), meanVariance(means), look.variance[0]
	if total > 0 {
		l.seen = float64(seen) / float64(total)
	}
	return l
}

// middleLight is the median of the blocks' mean light, channel by channel. The means average
// grains, and a reflection or pebble over a few blocks doesn't move the median.
func middleLight(means []palette.Linear) (middle palette.Linear) {
	if len(means) == 0 {
		return middle
	}
	channel := make([]float64, len(means))
	for c := range middle {
		for i := range means {
			channel[i] = means[i][c]
		}
		middle[c] = median(channel)
	}
	return middle
}

// correlatedBlocks is how many blocks side by side count as one sample (assumption: grains and
// mottles are a few millimetres wide).
const correlatedBlocks = 3.0

// meanVariance is the variance of the mean of a layer's blocks per direction of colour, with
// lightness at half its weight.
func meanVariance(means []palette.Linear) float64 {
	n := float64(len(means))
	if n < 2 {
		return 0
	}
	var mean, square palette.Lab
	for _, light := range means {
		c := light.Lab()
		c.L /= 2
		mean.L, mean.A, mean.B = mean.L+c.L/n, mean.A+c.A/n, mean.B+c.B/n
		square.L, square.A, square.B = square.L+c.L*c.L/n, square.A+c.A*c.A/n, square.B+c.B*c.B/n
	}
	variance := square.L - mean.L*mean.L + square.A - mean.A*mean.A + square.B - mean.B*mean.B
	return max(0, variance) / 3 * correlatedBlocks / n
}

// edge is the row of an edge in a block. The edge past the last is the strip's end.
func (s *strata) edge(k, block int) float64 { return s.warp.edge(k, block, s.field.rows) }

// levelOf is the mean row of an edge.
func (s *strata) levelOf(k int) float64 {
	if k == len(s.level) {
		return float64(s.field.rows)
	}
	return s.level[k]
}

// thickness is a layer's mean thickness, mm.
func (s *strata) thickness(l bedLayer) float64 {
	return (s.levelOf(l.bottom) - s.levelOf(l.top)) * s.field.pitch
}

// label is the band that the layer must have: the keeper's own label, or unknown if nothing of
// the layer can be seen; NoBand: any.
func (l *bedLayer) label() palette.Band {
	if l.given != palette.NoBand {
		return l.given
	}
	if l.seen == 0 {
		return palette.Unknown
	}
	return palette.NoBand
}

// named is a bed with its bands.
type named struct {
	layers []bedLayer
	names  []palette.Band
	match  *palette.Match
}

// name joins a bed's layers as long as neighbours are likelier one layer than several, and names what is
// left. The tank's own colours have no say in the joining, so that a bed falls into the same layers whatever its
// keeper entered.
func (s *strata) name(layers []bedLayer, matcher *palette.Matcher, light palette.Light, doubt float64) named {
	anyTank := palette.NewMatcher(nil, nil)
	found := s.column(layers, light, doubt)
	found.Loose = true
	match := anyTank.Match(found)
	joiner := joiner{s, doubt, map[span]*joint{}, map[[2]int]bedLayer{}}
	for {
		var best *joint
		first, most := 0, 0.0
		for i := range layers {
			for n := 2; n <= mostJoined && i+n <= len(layers); n++ {
				j := joiner.join(layers[i:i+n], i == 0)
				if j == nil {
					continue
				}
				if gain := match.JoinedEvidence(i, n, j.whole) + j.same - match.Evidence(); gain > most { // in log evidence
					best, first, most = j, i, gain
				}
			}
		}
		if best == nil {
			match = matcher.Match(s.column(layers, light, doubt))
			return named{layers, match.Names(), match}
		}
		layers = slices.Concat(layers[:first], []bedLayer{best.layer}, layers[first+best.parts:])
		match = match.Join(first, best.parts, best.whole)
	}
}

// mostJoined is how many neighbours may be joined at once: three, since a darker patch has the
// same colour above and below.
const mostJoined = 3

// joiner joins neighbours and remembers what came of it, since after each join all the others are
// looked at again.
type joiner struct {
	*strata
	doubt  float64
	joints map[span]*joint
	wholes map[[2]int]bedLayer // by their edges
}

// joint is some neighbours as one layer.
type joint struct {
	parts int
	layer bedLayer
	whole *palette.Joint
	same  float64 // log-likelihood that they are one
}

// span is the edges of up to mostJoined neighbours.
type span [mostJoined + 1]int

// join makes neighbours one layer, the bed's first or another; nil: they are surely several.
func (c *joiner) join(parts []bedLayer, first bool) *joint {
	of := span{parts[0].top}
	for i, l := range parts {
		of[i+1] = l.bottom
	}
	j, known := c.joints[of]
	if !known {
		j = c.joinAnew(parts, first)
		c.joints[of] = j
	}
	return j
}

func (c *joiner) joinAnew(parts []bedLayer, first bool) *joint {
	j := &joint{parts: len(parts), layer: parts[0]}
	for _, next := range parts[1:] {
		j.same += c.sameLayer(j.layer, next)
		if j.same < leastSame {
			return nil
		}
		j.layer = c.whole(parts[0].top, next.bottom)
	}
	j.whole = palette.NewJoint(c.seen(j.layer, c.doubt), first)
	return j
}

func (c *joiner) whole(top, bottom int) bedLayer {
	l, known := c.wholes[[2]int{top, bottom}]
	if !known {
		l = c.layer(top, bottom)
		c.wholes[[2]int{top, bottom}] = l
	}
	return l
}

// How parts of one layer may differ (assumptions).
const (
	mottling  = 1.0   // standard deviation per direction of colour, beyond that of their blocks, CIEDE2000
	leastSame = -12.0 // log-likelihood below which they are surely two layers

	// Shade and the lamp's fall-off change lightness more than hue, and little at once.
	lightnessShare = 0.5  // share of a step in log lightness that is not shade, in a thick layer, at least
	mostShade      = 0.15 // of ln luminance, of a step that is sharp
	sharpStep      = 0.6  // mm over which the light changes there
	grainRows      = 3    // what counts as thick, in lengths over which the grain correlates

	textureSpread = 0.8 // standard deviation of the log of a texture's variance in lightness
)

// sameLayer is the log-likelihood that two layers are one, on the palette's scale of densities.
// Part of the step in lightness counts as shade. In a layer few grains thick it is all of it,
// since the lit tops and the shadows of grains lie in rows along an edge.
func (s *strata) sameLayer(upper, lower bedLayer) float64 {
	if upper.seen == 0 || lower.seen == 0 {
		return leastSame - 1 // a hidden layer is never joined
	}
	thick := min(s.thickness(upper), s.thickness(lower)) / (grainRows * s.kappa * s.field.pitch)
	step := math.Log(upper.light.Luminance() / lower.light.Luminance())
	gain := math.Exp(step - math.Copysign(min(1, max(0, 2*thick-1))*s.unshadedStep(math.Abs(step), lower.top), step))
	unshaded := lower.light
	for c := range unshaded {
		unshaded[c] *= gain
	}
	d := palette.Difference(upper.light.Lab(), unshaded.Lab())
	variance := mottling*mottling + upper.variance + lower.variance + s.grainVariance(upper) + s.grainVariance(lower)
	r := math.Log(upper.texture / lower.texture)
	return -d*d/(2*variance) - 1.5*math.Log(variance) - r*r/(2*textureSpread*textureSpread) + grainVote*alikeGrain(upper.grain, lower.grain) + raggedVote*s.uneven(upper, lower)
}

// unshadedStep is the part of a step in ln luminance at an edge that is not shade.
func (s *strata) unshadedStep(step float64, edge int) float64 {
	blur := max(1, s.width(edge)/sharpStep)
	return max(lightnessShare*step, step-mostShade*blur*blur)
}

// grainHue is by how much single grains differ in hue, beside their lightness (assumption).
const grainHue = 0.5

// grainVariance is that of the hue of a layer which shows only so many grains, CIELAB units squared per direction.
func (s *strata) grainVariance(l bedLayer) float64 {
	seen := s.seen(l, 0)
	noise := grainHue * seen.GrainNoise(seen.Lab.L)
	return noise * noise
}

// What counts beside the colours of two layers: votes, since a photo's clues are not independent of each other
// (assumptions, tried on rendered and real beds).
const (
	grainVote  = 0.7
	raggedVote = 0.7
)

// How the contrast of two parts of one layer differs, and that of two layers: standard deviations of its
// logarithm (assumptions, of rendered and real beds).
const onesContrast, othersContrast = 0.15, 0.5

// alikeGrain is the log-likelihood ratio of one grain to two.
func alikeGrain(upper, lower palette.Texture) float64 {
	if upper == (palette.Texture{}) || lower == (palette.Texture{}) {
		return 0
	}
	r := math.Log(upper.Contrast / lower.Contrast)
	return math.Log(othersContrast/onesContrast) - r*r/2*(1/(onesContrast*onesContrast)-1/(othersContrast*othersContrast))
}

// An invented edge is ragged beside the thinner of its layers: at evenEdge it is as likely to be one as
// not, and so many times likelier for each factor of e (assumptions, of rendered and real beds).
const evenEdge = 0.16

// thickBeside is the thickness from which on a layer is thick beside any unevenness, mm (assumption).
const thickBeside = 6.0

// uneven is the log-likelihood ratio of an invented edge to a true one by its raggedness.
func (s *strata) uneven(upper, lower bedLayer) float64 {
	share := s.raggedness(lower.top) / max(leastThere, min(s.thickness(upper), s.thickness(lower), thickBeside))
	return min(2, max(-2, math.Log(max(share, 1e-3)/evenEdge)))
}

func (s *strata) column(layers []bedLayer, light palette.Light, doubt float64) palette.Column {
	column := palette.Column{Layers: make([]palette.Seen, len(layers)), Light: light}
	for i, l := range layers {
		column.Layers[i] = s.seen(l, doubt)
	}
	return column
}

func (s *strata) seen(l bedLayer, doubt float64) palette.Seen {
	return palette.Seen{
		Lab: l.light.Lab(), ThicknessMM: s.thickness(l), DepthMM: ((s.levelOf(l.top)+s.levelOf(l.bottom))/2 - s.level[0]) * s.field.pitch,
		Doubt: doubt, Texture: l.grain, Label: l.label(),
	}
}
