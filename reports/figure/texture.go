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
	if g.sort == specks {
		if dots := box.inset(speckRadius).lattice(g.pitch); len(dots) > 0 {
			f.dots(ink, speckRadius, dots...)
		}
		return
	}
	f.lines(thin, box.hatched(g)...)
}

// hatched are the lines of a grain through a box.
func (b box) hatched(g grain) (lines [][]point) {
	switch g.sort {
	case flocs:
		for _, at := range b.lattice(g.pitch) {
			from, to := max(b.left, at.x-flocLength/2), min(b.right, at.x+flocLength/2)
			lines = append(lines, []point{{from, at.y}, {to, at.y}})
		}
	case level:
		for at := math.Ceil(b.top/g.pitch) * g.pitch; at < b.foot; at += g.pitch {
			lines = append(lines, []point{{b.left, at}, {b.right, at}})
		}
	case upright:
		for at := math.Ceil(b.left/g.pitch) * g.pitch; at < b.right; at += g.pitch {
			lines = append(lines, []point{{at, b.top}, {at, b.foot}})
		}
	case rising:
		return b.slanted(g.pitch, -1)
	case falling:
		return b.slanted(g.pitch, 1)
	case netted:
		return append(b.slanted(g.pitch, -1), b.slanted(g.pitch, 1)...)
	}
	return lines
}

// slanted are lines at 45 degrees through a box: y goes with slope times x.
func (b box) slanted(pitch, slope float64) (lines [][]point) {
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
			lines = append(lines, []point{{x1, c + slope*x1}, {x2, c + slope*x2}})
		}
	}
	return lines
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

// shaken is a place within a cell of a lattice, 0 to 1 each way: the cell's bits, mixed by
// the finisher of MurmurHash3 (public domain, from memory).
func shaken(row, column float64) (dx, dy float64) {
	bits := uint64(int64(row))<<32 ^ uint64(int64(column))&0xffffffff
	for _, mix := range [...]uint64{0xff51afd7ed558ccd, 0xc4ceb9fe1a85ec53} {
		bits = (bits ^ bits>>33) * mix
	}
	bits ^= bits >> 33
	return float64(bits>>32) / (1 << 32), float64(bits&0xffffffff) / (1 << 32)
}
