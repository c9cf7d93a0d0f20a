package photo

import (
	"math"

	"panecore/palette"
)

// bedLayer is a layer of the bed: the edges that bound it and its colour under the
// corrected light.
type bedLayer struct {
	top, bottom int // edges; bottom is len(level) for the strip's lower end
	light       palette.Linear
	seen        float64      // share of its blocks that was not masked
	texture     float64      // variance of its blocks in lightness
	variance    float64      // of its colour's mean, by how its columns differ, CIELAB units squared a direction
	told        palette.Band // the keeper's own word; NoBand: none
}

// bed lists the layers below the surface's edge.
func (s *strata) bed() []bedLayer {
	list := make([]bedLayer, 0, len(s.level))
	for k := range s.level {
		list = append(list, s.layer(k, k+1))
	}
	return list
}

// edgeMargin is what is left out of a layer's colour at either edge, where it may blend into
// the next, mm; never more than a quarter of the layer (assumption).
const edgeMargin = 0.6

// inner are the rows between two edges of a block that show a layer's own colour; last is the row after
// them.
func (f *field) inner(from, to float64) (first, last int) {
	margin := min((to-from)/4, edgeMargin/f.pitch)
	first, last = int(math.Ceil(from+margin)), int(to-margin)
	if first >= last && to-from >= 1 {
		first = int((from + to) / 2)
		last = first + 1
	}
	return max(0, first), min(f.rows, last)
}

// layer averages the light between two edges. Blocks that differ from most by more than
// texture does, things lying in the bed, are left out.
func (s *strata) layer(top, bottom int) bedLayer {
	f := s.field
	l := bedLayer{top: top, bottom: bottom}
	look := s.looks[top+1]
	if bottom > top+1 {
		look = f.lookBetween(s.warp, top, bottom)
	}
	total, seen, used := 0, 0, 0
	var columns []palette.Linear
	for b := range f.blocks {
		var column palette.Linear
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
				column[c] += light[c]
			}
		}
		if n := float64(used - before); n > 0 {
			for c := range column {
				column[c] /= n
			}
			columns = append(columns, column)
		}
	}
	l.light, l.variance, l.texture = middleLight(columns), meanVariance(columns), look.variance[0]
	if total > 0 {
		l.seen = float64(seen) / float64(total)
	}
	return l
}

// middleLight is the median of the columns' light, channel by channel: a column averages grains, and
// what lies over some of them, a reflection or a pebble, doesn't move the middle.
func middleLight(columns []palette.Linear) (middle palette.Linear) {
	if len(columns) == 0 {
		return middle
	}
	channel := make([]float64, len(columns))
	for c := range middle {
		for i := range columns {
			channel[i] = columns[i][c]
		}
		middle[c] = median(channel)
	}
	return middle
}

// togetherColumns is how many columns side by side speak as one (assumption: grains and mottles are
// a few millimetres wide).
const togetherColumns = 3.0

// meanVariance is the variance of the mean of a layer's columns, a direction of colour, lightness
// at half its weight.
func meanVariance(columns []palette.Linear) float64 {
	n := float64(len(columns))
	if n < 2 {
		return 0
	}
	var mean, square palette.Lab
	for _, column := range columns {
		c := column.Lab()
		c.L /= 2
		mean.L, mean.A, mean.B = mean.L+c.L/n, mean.A+c.A/n, mean.B+c.B/n
		square.L, square.A, square.B = square.L+c.L*c.L/n, square.A+c.A*c.A/n, square.B+c.B*c.B/n
	}
	variance := square.L - mean.L*mean.L + square.A - mean.A*mean.A + square.B - mean.B*mean.B
	return max(0, variance) / 3 * togetherColumns / n
}

// edge is the row of an edge in a block; the one past the last is the strip's end.
func (s *strata) edge(k, block int) float64 {
	if k == len(s.level) {
		return float64(s.field.rows)
	}
	return s.at[block][k]
}

// levelOf is an edge's mean row.
func (s *strata) levelOf(k int) float64 {
	if k == len(s.level) {
		return float64(s.field.rows)
	}
	return s.level[k]
}

// thickness in mm.
func (s *strata) thickness(l bedLayer) float64 {
	return (s.levelOf(l.bottom) - s.levelOf(l.top)) * s.field.pitch
}

// label is what the layer's name is held to: what the keeper says, and unknown where nothing
// of it can be seen.
func (l *bedLayer) label() palette.Band {
	if l.told != palette.NoBand {
		return l.told
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

// name names the bed's layers and joins neighbours that are likelier one layer than several, until
// none are left to join.
func (s *strata) name(layers []bedLayer, matcher *palette.Matcher, light palette.Light, doubt float64) named {
	match := matcher.Match(s.column(layers, light, doubt))
	for {
		best := joint{}
		for i := range layers {
			for n := 2; n <= mostJoined && i+n <= len(layers); n++ {
				j := s.join(layers, i, n)
				if j.same < leastSame {
					continue
				}
				j.match = matcher.Recut(s.column(j.layers, light, doubt), match)
				j.gain = j.match.Evidence() + j.same - match.Evidence()
				if j.gain > best.gain {
					best = j
				}
			}
		}
		if best.match == nil {
			match = matcher.Match(s.column(layers, light, doubt))
			return named{layers, match.Names(), match}
		}
		layers, match = best.layers, best.match
	}
}

// mostJoined is how many neighbours may be one layer at once: three, as a darker patch has the
// same colour above and below.
const mostJoined = 3

// joint is a bed with some neighbours taken as one layer.
type joint struct {
	layers []bedLayer
	same   float64 // logarithm of the likelihood that they are
	match  *palette.Match
	gain   float64 // in the logarithm of evidence
}

// join takes n layers from the i-th on as one.
func (s *strata) join(layers []bedLayer, i, n int) joint {
	j := joint{}
	one := layers[i]
	for k := 1; k < n; k++ {
		j.same += s.sameLayer(one, layers[i+k])
		if j.same < leastSame {
			return j
		}
		one = s.layer(layers[i].top, layers[i+k].bottom)
	}
	j.layers = append(append(layers[:i:i], one), layers[i+n:]...)
	return j
}

// What two parts of one layer may differ by (standard deviation in each direction of colour,
// CIEDE2000) beyond what their own columns do, in lightness twice as much, since shade
// and the lamp's fall-off change it more than hue (assumptions). leastSame is where it is not
// worth asking.
const (
	mottling  = 1.0
	leastSame = -12.0

	lightnessShare = 0.5 // of a step in lightness, on the scale of its logarithm, that is no shade
	grainRows      = 3   // thickness in lengths over which the grain correlates from which that is so

	textureSpread = 0.8 // of the logarithm of a texture's variance in lightness
)

// sameLayer is the logarithm of the likelihood that two layers are one, on the palette's scale of
// densities. Part of the step in lightness counts as shade, the more the thinner a layer is
// beside grains, whose lit tops and shadows lie in rows along an edge.
func (s *strata) sameLayer(one, other bedLayer) float64 {
	if one.seen == 0 || other.seen == 0 {
		return leastSame - 1 // nothing is known of it
	}
	thin := min(s.thickness(one), s.thickness(other)) / (grainRows * s.kappa * s.field.pitch)
	shade := 1 - lightnessShare*min(1, max(0, 2*thin-1))
	gain := math.Pow(one.light.Luminance()/other.light.Luminance(), shade)
	lit := other.light
	for c := range lit {
		lit[c] *= gain
	}
	d := palette.Difference(one.light.Lab(), lit.Lab())
	variance := mottling*mottling + one.variance + other.variance
	r := math.Log(one.texture / other.texture)
	return -d*d/(2*variance) - 1.5*math.Log(variance) - r*r/(2*textureSpread*textureSpread)
}

func (s *strata) column(layers []bedLayer, light palette.Light, doubt float64) palette.Column {
	column := palette.Column{Layers: make([]palette.Seen, len(layers)), Light: light}
	for i, l := range layers {
		column.Layers[i] = palette.Seen{Lab: l.light.Lab(), ThicknessMM: s.thickness(l), Doubt: doubt, Label: l.label()}
	}
	return column
}
