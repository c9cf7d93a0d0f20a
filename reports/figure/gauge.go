package figure

import (
	"panecore/reports"
	"panecore/reports/figure/pen"
)

// gauge is a line from left to right on which numbers are placed.
type gauge struct {
	left, right float64                 // mm
	share       func(x float64) float64 // a number's share of the line; below 0 or above 1: beyond it
}

// at is the place of a number. A number beyond the line stands at its end, and beyond is -1
// before the left end and 1 after the right one.
func (g gauge) at(x float64) (place float64, beyond int) {
	share := g.share(x)
	switch {
	case share < 0:
		return g.left, -1
	case share > 1:
		return g.right, 1
	}
	return g.left + share*(g.right-g.left), 0
}

// The sizes of a dot and its bar, mm (assumptions: distinct at arm's length).
const (
	gaugeDot     = 1.05
	gaugeBar     = 1.7
	leastBar     = 0.35 // the shortest bar, so that a number known for sure shows one too
	arrowLong    = 1.9
	arrowHigh    = 2.6
	gaugeBarTone = 0.42 // share of the dot's opacity
)

// dotAndBar draws an estimate: a dot on its value and a bar over its range. Where the range
// leaves the gauge stands a faint arrowhead; where the value does, a strong one replaces the
// dot.
func (g gauge) dotAndBar(f *pen.Figure, y float64, e reports.Estimate, ink pen.Ink) {
	low, lowBeyond := g.at(e.Low)
	high, highBeyond := g.at(e.High)
	value, beyond := g.at(e.Value)
	if e.AtLeast {
		high, highBeyond = g.right, 1
	}
	faint := ink.Faint(gaugeBarTone)
	if lowBeyond < 0 && beyond >= 0 {
		arrowhead(f, g.left, y, -1, faint)
		low = min(high, g.left+arrowLong)
	}
	if highBeyond > 0 && beyond <= 0 {
		arrowhead(f, g.right, y, 1, faint)
		high = max(low, g.right-arrowLong)
	}
	if lowBeyond == 0 || highBeyond != lowBeyond {
		width := max(high-low, leastBar)
		f.Rect(min(low, g.right-width), y-gaugeBar/2, width, gaugeBar, faint)
	}
	if beyond != 0 {
		arrowhead(f, value, y, float64(beyond), ink)
		return
	}
	f.Dots(ink, gaugeDot, pen.At(value, y))
}

// arrowhead draws a triangle with its tip at a place, pointing right (way 1) or left (way -1).
func arrowhead(f *pen.Figure, x, y, way float64, ink pen.Ink) {
	back := x - way*arrowLong
	f.Area(ink, pen.At(x, y), pen.At(back, y-arrowHigh/2), pen.At(back, y+arrowHigh/2))
}
