package photo

import "math"

// Plane maps millimetres on the pane, x to the right and y down its depth axis, to the upright picture, pixels:
// (x, y) is seen at ((p0·x + p1·y + p2)/w, (p3·x + p4·y + p5)/w), w = p6·x + p7·y + 1. It holds scale, roll and tilt.
type Plane [8]float64

// At is where a place on the pane is seen.
func (h Plane) At(x, y float64) Point {
	w := h[6]*x + h[7]*y + 1
	return Point{(h[0]*x + h[1]*y + h[2]) / w, (h[3]*x + h[4]*y + h[5]) / w}
}

// back holds the inverse map: 3 × 3, by rows, up to a factor.
type back [9]float64

// back inverts the map.
func (h Plane) back() back {
	a, b, c, d, e, f, g, k := h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7]
	return back{
		e - f*k, c*k - b, b*f - c*e,
		f*g - d, a - c*g, c*d - a*f,
		d*k - e*g, b*g - a*k, a*e - b*d,
	}
}

func (m back) at(p Point) (x, y float64) {
	w := m[6]*p.X + m[7]*p.Y + m[8]
	return (m[0]*p.X + m[1]*p.Y + m[2]) / w, (m[3]*p.X + m[4]*p.Y + m[5]) / w
}

// Of is the place on the pane that is seen at a point, mm.
func (h Plane) Of(p Point) (x, y float64) { return h.back().at(p) }

// Scale is the pixels per millimetre at a place of the pane, mm: across it, and down its depth axis.
func (h Plane) Scale(x, y float64) (across, down float64) {
	const step = 0.5 // mm to each side
	l, r, u, d := h.At(x-step, y), h.At(x+step, y), h.At(x, y-step), h.At(x, y+step)
	return math.Hypot(r.X-l.X, r.Y-l.Y), math.Hypot(d.X-u.X, d.Y-u.Y)
}

// Shift is the same map for millimetres counted from another origin.
func (h Plane) Shift(x, y float64) Plane {
	w := h[6]*x + h[7]*y + 1
	p := h
	p[2], p[5] = h[0]*x+h[1]*y+h[2], h[3]*x+h[4]*y+h[5]
	for i := range p {
		p[i] /= w
	}
	return p
}
