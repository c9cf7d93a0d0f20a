package pen

import "math"

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
