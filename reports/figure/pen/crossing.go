package pen

import "math"

// Halo is how far the ground shows on either side of a line that crosses layers, mm.
const Halo = 0.4

// OverLayers draws a line at a height from one place to another, and the ground about it
// where it crosses a core's layers, between left and right. Where these are drawn small,
// both are thinner, by the root of the scale, so that a thin layer is still seen beside them.
func (f *Figure) OverLayers(s Stroke, scale, y, left, right, from, to float64) {
	thin := math.Sqrt(min(1, scale))
	s.Width *= thin
	f.Line(Stroke{Ink: InkPaper, Width: s.Width + Halo*thin}, Point{left, y}, Point{right, y})
	f.Line(s, Point{from, y}, Point{to, y})
}
