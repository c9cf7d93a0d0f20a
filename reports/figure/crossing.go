package figure

import "math"

// halo is how far the ground shows on either side of a line that crosses layers, mm.
const halo = 0.4

// overLayers draws a line at a height from one place to another, and the ground about it
// where it crosses a column's layers, between left and right. Where these are drawn small,
// both are thinner, by the root of the scale, so that a thin layer is still seen beside them.
func (f *Figure) overLayers(s stroke, scale, y, left, right, from, to float64) {
	thin := math.Sqrt(min(1, scale))
	s.width *= thin
	f.line(stroke{ink: inkPaper, width: s.width + halo*thin}, point{left, y}, point{right, y})
	f.line(s, point{from, y}, point{to, y})
}
