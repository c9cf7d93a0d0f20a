package figure

import (
	"math"

	"panecore/palette"
)

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
	g, ink := b.Grain(), on(c).faint(grainStrength)
	thin := stroke{ink: ink, width: grainWidth}
	box := box{x, y, x + w, y + h}
	if g.Hatching == palette.Specks {
		if dots := box.inset(speckRadius).lattice(g.PitchMM); len(dots) > 0 {
			f.dots(ink, speckRadius, dots...)
		}
		return
	}
	f.lines(thin, box.hatched(g)...)
}

// hatched are the lines of a grain through a box.
func (b box) hatched(g palette.Grain) (lines [][]point) {
	switch g.Hatching {
	case palette.Flocs:
		for _, at := range b.lattice(g.PitchMM) {
			from, to := max(b.left, at.x-flocLength/2), min(b.right, at.x+flocLength/2)
			lines = append(lines, []point{{from, at.y}, {to, at.y}})
		}
	case palette.Level:
		for at := math.Ceil(b.top/g.PitchMM) * g.PitchMM; at < b.foot; at += g.PitchMM {
			lines = append(lines, []point{{b.left, at}, {b.right, at}})
		}
	case palette.Upright:
		for at := math.Ceil(b.left/g.PitchMM) * g.PitchMM; at < b.right; at += g.PitchMM {
			lines = append(lines, []point{{at, b.top}, {at, b.foot}})
		}
	case palette.Rising:
		return b.slanted(g.PitchMM, -1)
	case palette.Falling:
		return b.slanted(g.PitchMM, 1)
	case palette.Netted:
		return append(b.slanted(g.PitchMM, -1), b.slanted(g.PitchMM, 1)...)
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
