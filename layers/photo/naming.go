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
	seen        float64 // share of its blocks that was not masked
}

// bed lists the layers below the surface's edge.
func (s *strata) bed(surface int) []bedLayer {
	list := make([]bedLayer, 0, len(s.level)-surface)
	for k := surface; k < len(s.level); k++ {
		list = append(list, s.layer(k, k+1))
	}
	return list
}

// edgeMargin is what is left out of a layer's colour at either edge, where it may blend into
// the next, mm; never more than a quarter of the layer (assumption).
const edgeMargin = 0.6

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
	for b := range f.blocks {
		from, to := s.edge(top, b), s.edge(bottom, b)
		margin := min((to-from)/4, edgeMargin/f.pitch)
		for r := max(0, int(math.Ceil(from+margin))); r < min(f.rows, int(to-margin)); r++ {
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
				l.light[c] += light[c]
			}
		}
	}
	for c := range l.light {
		l.light[c] /= float64(max(1, used))
	}
	if total > 0 {
		l.seen = float64(seen) / float64(total)
	}
	return l
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

// named is a bed with its bands.
type named struct {
	layers []bedLayer
	names  []palette.Band
	match  *palette.Match
}

// name names the bed's layers and joins neighbours of one band that differ little, until
// none are left to join.
func (s *strata) name(layers []bedLayer, matcher *palette.Matcher, light palette.Light, doubt float64) named {
	for {
		column := s.column(layers, light, doubt)
		names := matcher.Names(column)
		join := s.alike(layers, names)
		if join < 0 {
			return named{layers, names, matcher.Match(column)}
		}
		joined := s.layer(layers[join].top, layers[join+1].bottom)
		layers = append(layers[:join:join], append([]bedLayer{joined}, layers[join+2:]...)...)
	}
}

func (s *strata) column(layers []bedLayer, light palette.Light, doubt float64) palette.Column {
	column := palette.Column{Layers: make([]palette.Seen, len(layers)), Light: light}
	for i, l := range layers {
		column.Layers[i] = palette.Seen{Lab: l.light.Lab(), ThicknessMM: s.thickness(l), Doubt: doubt}
	}
	return column
}

// sameBand is how far two neighbouring layers of one band may differ and be one, CIEDE2000
// (assumption).
const sameBand = 12.0

// alike is the first of the two neighbours of one band that differ least; -1: there are none.
func (s *strata) alike(layers []bedLayer, names []palette.Band) int {
	at, least := -1, sameBand
	for i := range len(layers) - 1 {
		if names[i] != names[i+1] {
			continue
		}
		if d := palette.Difference(layers[i].light.Lab(), layers[i+1].light.Lab()); d < least {
			at, least = i, d
		}
	}
	return at
}
