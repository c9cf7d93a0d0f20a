package figure

import (
	"math"

	"panecore/palette"
)

// grain is how a band's grain is hinted, so that a picture reads in grey and to eyes that
// tell no red from green. The marks are the project's own.
type grain struct {
	sort  grainSort
	pitch float64 // mm between marks
}

type grainSort uint8

const (
	specks  grainSort = iota // single grains
	flocs                    // short strokes that lie
	rising                   // lines that rise to the right
	falling                  // lines that fall to the right
	netted                   // both
	level                    // lines that lie
	upright                  // lines that stand, as growth on the glass runs
)

func grainOf(b palette.Band) grain {
	switch b {
	case palette.MulmLight:
		return grain{flocs, 2.6}
	case palette.MulmDark:
		return grain{flocs, 1.5}
	case palette.Rust:
		return grain{rising, 1.3}
	case palette.Black:
		return grain{netted, 2.2}
	case palette.Grey:
		return grain{level, 1.6}
	case palette.FilmGreen:
		return grain{upright, 1.8}
	case palette.FilmDark:
		return grain{upright, 0.9}
	case palette.MatWhite:
		return grain{specks, 0.9}
	case palette.Native:
		return grain{specks, 2.1}
	}
	return grain{falling, 2.6}
}

// How the grain is drawn (assumptions: seen at reading distance, and no more).
const (
	grainWidth    = 0.16 // of lines, mm
	speckRadius   = 0.17 // mm
	flocLength    = 0.9  // mm
	grainStrength = 0.34 // opacity
	leastGrain    = 1.2  // the least width or height that is given a grain, mm
)

// bed fills a box with a layer's colour and the grain of its band.
func (f *Figure) bed(x, y, w, h float64, c palette.Color, b palette.Band) {
	f.rect(x, y, w, h, asRead(c))
	f.grain(x, y, w, h, c, b)
}

// grain draws the grain of a band over a box of a colour. The marks stand on one lattice
// in the whole figure, so that a layer looks alike in neighbouring columns.
func (f *Figure) grain(x, y, w, h float64, c palette.Color, b palette.Band) {
	if w < leastGrain || h < leastGrain/2 {
		return
	}
	g, ink := grainOf(b), on(c).faint(grainStrength)
	thin := stroke{ink: ink, width: grainWidth}
	box := box{x, y, x + w, y + h}
	switch g.sort {
	case specks:
		if dots := box.inset(speckRadius).lattice(g.pitch); len(dots) > 0 {
			f.dots(ink, speckRadius, dots...)
		}
	case flocs:
		for _, at := range box.lattice(g.pitch) {
			from, to := max(box.left, at.x-flocLength/2), min(box.right, at.x+flocLength/2)
			f.line(thin, point{from, at.y}, point{to, at.y})
		}
	case level:
		for at := math.Ceil(box.top/g.pitch) * g.pitch; at < box.foot; at += g.pitch {
			f.line(thin, point{box.left, at}, point{box.right, at})
		}
	case upright:
		for at := math.Ceil(box.left/g.pitch) * g.pitch; at < box.right; at += g.pitch {
			f.line(thin, point{at, box.top}, point{at, box.foot})
		}
	case rising:
		f.slanted(box, g.pitch, -1, thin)
	case falling:
		f.slanted(box, g.pitch, 1, thin)
	case netted:
		f.slanted(box, g.pitch, -1, thin)
		f.slanted(box, g.pitch, 1, thin)
	}
}

// slanted draws lines at 45 degrees through a box: y goes with slope times x.
func (f *Figure) slanted(b box, pitch, slope float64, s stroke) {
	step := pitch * math.Sqrt2
	low, high := b.top-slope*b.left, b.foot-slope*b.right // y - slope x at two corners
	if slope > 0 {
		low, high = b.top-slope*b.right, b.foot-slope*b.left
	}
	for c := math.Ceil(low/step) * step; c < high; c += step {
		at := func(y float64) float64 { return (y - c) / slope }
		// Where the line meets the box's top and foot, held to its sides.
		x1, x2 := min(at(b.top), at(b.foot)), max(at(b.top), at(b.foot))
		x1, x2 = max(x1, b.left), min(x2, b.right)
		if x1 < x2 {
			f.line(s, point{x1, c + slope*x1}, point{x2, c + slope*x2})
		}
	}
}

// box is a rectangle by its sides, mm.
type box struct{ left, top, right, foot float64 }

func (b box) inset(by float64) box { return box{b.left + by, b.top + by, b.right - by, b.foot - by} }

// lattice are the places within a box of a lattice that is shaken a little, since grains
// stand in no rank and file. The shaking depends on the place alone.
func (b box) lattice(pitch float64) (places []point) {
	for row := math.Floor(b.top / pitch); row*pitch < b.foot; row++ {
		for column := math.Floor(b.left / pitch); column*pitch < b.right; column++ {
			dx, dy := shaken(row, column)
			at := point{(column + dx) * pitch, (row + dy) * pitch}
			if at.x >= b.left && at.x <= b.right && at.y >= b.top && at.y <= b.foot {
				places = append(places, at)
			}
		}
	}
	return places
}

// shaken is a place within a cell of a lattice, 0 to 1 each way. The multipliers are those
// of Roberts' R2 sequence, which spreads evenly without ranks (from memory).
func shaken(row, column float64) (dx, dy float64) {
	n := column + 57*row
	_, dx = math.Modf(1e4 + 0.7548776662466927*n)
	_, dy = math.Modf(1e4 + 0.5698402909980532*n)
	return dx, dy
}
