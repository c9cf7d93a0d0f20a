package pen

import (
	"math"

	"panecore/palette"
)

// How the grain is drawn (assumptions: just visible at reading distance).
const (
	grainWidth    = 0.16 // of lines, mm
	speckRadius   = 0.17 // mm
	flocLength    = 0.9  // mm
	grainStrength = 0.34 // opacity
	LeastGrain    = 1.2  // width below which a box has no grain, mm; half of it in height
)

// FillLayer fills a box with a layer's colour and the grain of its band.
func (f *Figure) FillLayer(x, y, w, h float64, c palette.Color, b palette.Band) {
	f.Rect(x, y, w, h, AsRead(c))
	f.Grain(x, y, w, h, c, b)
}

// Grain draws the grain of a band over a box of a colour. All marks of a figure stand on one
// lattice, so that a layer looks the same in neighbouring cores.
func (f *Figure) Grain(x, y, w, h float64, c palette.Color, b palette.Band) {
	if w < LeastGrain || h < LeastGrain/2 {
		return
	}
	g, ink := b.Grain(), On(c).Faint(grainStrength)
	thin := Stroke{Ink: ink, Width: grainWidth}
	box := Box{x, y, x + w, y + h}
	if g.Hatching == palette.Specks {
		if dots := box.Inset(speckRadius).Lattice(g.PitchMM); len(dots) > 0 {
			f.Dots(ink, speckRadius, dots...)
		}
		return
	}
	f.Lines(thin, box.hatched(g)...)
}

// hatched are the lines of a grain through a box.
func (b Box) hatched(g palette.Grain) (lines [][]Point) {
	switch g.Hatching {
	case palette.Flocs:
		for _, at := range b.Lattice(g.PitchMM) {
			from, to := max(b.Left, at.X-flocLength/2), min(b.Right, at.X+flocLength/2)
			lines = append(lines, []Point{{from, at.Y}, {to, at.Y}})
		}
	case palette.Level:
		for at := math.Ceil(b.Top/g.PitchMM) * g.PitchMM; at < b.Foot; at += g.PitchMM {
			lines = append(lines, []Point{{b.Left, at}, {b.Right, at}})
		}
	case palette.Upright:
		for at := math.Ceil(b.Left/g.PitchMM) * g.PitchMM; at < b.Right; at += g.PitchMM {
			lines = append(lines, []Point{{at, b.Top}, {at, b.Foot}})
		}
	case palette.Rising:
		return b.Slanted(g.PitchMM, -1)
	case palette.Falling:
		return b.Slanted(g.PitchMM, 1)
	case palette.Netted:
		return append(b.Slanted(g.PitchMM, -1), b.Slanted(g.PitchMM, 1)...)
	}
	return lines
}

// Slanted are lines at 45 degrees through a box, rising with slope -1 and falling with 1.
func (b Box) Slanted(pitch, slope float64) (lines [][]Point) {
	step := pitch * math.Sqrt2
	low, high := b.Top-slope*b.Left, b.Foot-slope*b.Right // y - slope x at two corners
	if slope > 0 {
		low, high = b.Top-slope*b.Right, b.Foot-slope*b.Left
	}
	for c := math.Ceil(low/step) * step; c < high; c += step {
		at := func(y float64) float64 { return (y - c) / slope }
		// Where the line meets the box's top and foot, kept within its sides.
		x1, x2 := min(at(b.Top), at(b.Foot)), max(at(b.Top), at(b.Foot))
		x1, x2 = max(x1, b.Left), min(x2, b.Right)
		if x1 < x2 {
			lines = append(lines, []Point{{x1, c + slope*x1}, {x2, c + slope*x2}})
		}
	}
	return lines
}

// Box is a rectangle by its sides, mm.
type Box struct{ Left, Top, Right, Foot float64 }

// Inset is the box without an edge of a width, mm.
func (b Box) Inset(by float64) Box { return Box{b.Left + by, b.Top + by, b.Right - by, b.Foot - by} }

// Lattice are the places of a lattice within a box, each shifted at random, since grains stand
// in no order. The shift depends on the place alone.
func (b Box) Lattice(pitch float64) (places []Point) {
	for row := math.Floor(b.Top / pitch); row*pitch < b.Foot; row++ {
		for place := math.Floor(b.Left / pitch); place*pitch < b.Right; place++ {
			dx, dy := shaken(row, place)
			at := Point{(place + dx) * pitch, (row + dy) * pitch}
			if at.X >= b.Left && at.X <= b.Right && at.Y >= b.Top && at.Y <= b.Foot {
				places = append(places, at)
			}
		}
	}
	return places
}

// shaken is a place within a lattice cell, 0 to 1 each way: the cell's bits, mixed by the
// finisher of MurmurHash3 (public domain, from memory).
func shaken(row, place float64) (dx, dy float64) {
	bits := uint64(int64(row))<<32 ^ uint64(int64(place))&0xffffffff
	for _, mix := range [...]uint64{0xff51afd7ed558ccd, 0xc4ceb9fe1a85ec53} {
		bits = (bits ^ bits>>33) * mix
	}
	bits ^= bits >> 33
	return float64(bits>>32) / (1 << 32), float64(bits&0xffffffff) / (1 << 32)
}

// Halo is the width of bare paper on either side of a line that crosses layers, mm.
const Halo = 0.4

// OverLayers draws a level line from one place to another, with bare paper around it where
// it crosses a core's layers, between left and right. In a small core both are thinner, by
// the root of the scale, so that a thin layer still shows beside them.
func (f *Figure) OverLayers(s Stroke, scale, y, left, right, from, to float64) {
	thin := math.Sqrt(min(1, scale))
	s.Width *= thin
	f.Line(Stroke{Ink: InkPaper, Width: s.Width + Halo*thin}, Point{left, y}, Point{right, y})
	f.Line(s, Point{from, y}, Point{to, y})
}
