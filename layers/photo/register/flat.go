package register

import (
	"math"
)

// What is known of a fit before anything is seen, in the plane's units (assumptions: the camera is tilted against last time by
// a few degrees, and a pair is seen to half a pixel of the sheet).
const (
	pairNoise   = 0.5  // pixels of the sheet, standard deviation
	sameShape   = 0.01 // standard deviation of what differs from a shift, turn and scale
	sameTilt    = 0.02 // of the tilt's two numbers
	flatPasses  = 6
	strayPair   = 1.0 // pixels of the sheet at which a pair counts half (Cauchy's weight)
	unseenNoise = 0.3 // pixels of the sheet that marks may be off besides, by lens and rounding
)

// normal are the equations of a weighted fit: their matrix and right side.
type normal struct {
	matrix [8][8]float64
	right  [8]float64
}

func (n *normal) add(row plane, value, weight float64) {
	for i := range row {
		n.right[i] += weight * row[i] * value
		for j := range row {
			n.matrix[i][j] += weight * row[i] * row[j]
		}
	}
}

// solve fits the plane to its pairs by least squares, with less weight for those that lie off.
func (f *Lie) solve() {
	for range flatPasses {
		n := f.equations()
		solution, ok := n.solved(n.right)
		if !ok {
			return
		}
		f.plane = solution
	}
}

// equations are those of the pairs and of what is known before.
func (f *Lie) equations() (n normal) {
	for _, p := range f.pairs {
		off := f.off(p) / strayPair
		weight := 1 / (1 + off*off)
		from, to := f.from.unit(p.from), f.to.unit(p.to)
		n.add(plane{from.X, from.Y, 1, 0, 0, 0, -from.X * to.X, -from.Y * to.X}, to.X, weight)
		n.add(plane{0, 0, 0, from.X, from.Y, 1, -from.X * to.Y, -from.Y * to.Y}, to.Y, weight)
	}
	noise := f.noise()
	shape, tilt := noise*noise/(sameShape*sameShape), noise*noise/(sameTilt*sameTilt)
	n.add(plane{0: 1, 4: -1}, 0, shape)
	n.add(plane{1: 1, 3: 1}, 0, shape)
	n.add(plane{6: 1}, 0, tilt)
	n.add(plane{7: 1}, 0, tilt)
	return n
}

// noise is that of a pair in the plane's units.
func (f *Lie) noise() float64 { return pairNoise / (float64(max(f.to.w, f.to.h)) / 2) }

// solved solves the equations for a right side, by elimination; false: they don't determine all.
func (n *normal) solved(right [8]float64) (x plane, ok bool) {
	a := n.matrix
	for i := range a {
		pivot := i
		for r := i + 1; r < len(a); r++ {
			if math.Abs(a[r][i]) > math.Abs(a[pivot][i]) {
				pivot = r
			}
		}
		if math.Abs(a[pivot][i]) < 1e-12 {
			return x, false
		}
		a[i], a[pivot] = a[pivot], a[i]
		right[i], right[pivot] = right[pivot], right[i]
		for r := i + 1; r < len(a); r++ {
			by := a[r][i] / a[i][i]
			for c := i; c < len(a); c++ {
				a[r][c] -= by * a[i][c]
			}
			right[r] -= by * right[i]
		}
	}
	for i := len(a) - 1; i >= 0; i-- {
		x[i] = right[i]
		for c := i + 1; c < len(a); c++ {
			x[i] -= a[i][c] * x[c]
		}
		x[i] /= a[i][i]
	}
	return x, true
}

// A fit with this many pairs for each of its rival is one of two that may be right; up to calmRival it stands alone
// (assumptions: what moves together behind the pane is less than what is on it).
const calmRival, fullRival = 0.4, 0.9

// spread is the standard error of where places of the earlier picture lie, pixels of the sheet along one axis: that of the worst.
func (f *Lie) spread(places ...Point) float64 {
	n := f.equations()
	residual := 0.0
	for _, p := range f.pairs {
		residual += f.off(p) * f.off(p) / (2 * float64(len(f.pairs)))
	}
	noise := max(pairNoise, math.Sqrt(residual)) / pairNoise * f.noise()
	worst := 0.0
	for _, at := range places {
		u := f.from.unit(Point{at.X / f.from.by, at.Y / f.from.by})
		to := f.plane.at(u.X, u.Y)
		for _, row := range []plane{{u.X, u.Y, 1, 0, 0, 0, -u.X * to.X, -u.Y * to.X}, {0, 0, 0, u.X, u.Y, 1, -u.X * to.Y, -u.Y * to.Y}} {
			x, ok := n.solved(row)
			if !ok {
				return math.Inf(1)
			}
			square := 0.0
			for i := range row {
				square += row[i] * x[i]
			}
			worst = max(worst, square)
		}
	}
	half := float64(max(f.to.w, f.to.h)) / 2
	return math.Hypot(unseenNoise, math.Sqrt(max(0, worst))*noise*half)
}

// Within is how far a place may be off and count as right, as a share of the picture's longer side: 3 px of 1600 (the
// project's definition).
const Within = 3.0 / 1600

// Confidence is the probability that places of the earlier picture are right to Within.
func (f *Lie) Confidence(places ...Point) float64 {
	most := Within * float64(max(f.to.w, f.to.h)) / f.spread(places...)
	alone := min(1, max(0, (fullRival-f.rival)/(fullRival-calmRival)))
	return alone * (1 - math.Exp(-most*most/2)) // of an error in two directions (Rayleigh)
}

// How much of what is in a part has to be seen again for what is there to lie as the rest (assumptions).
const (
	seenAgain   = 0.4 // of the spots there
	leastAround = 3   // spots
)

// Shows reports whether enough of what a part of the earlier picture shows is seen again where it should be.
func (f *Lie) Shows(part func(Point) bool) bool {
	all, borne := 0, 0
	in := func(x, y float64) bool { return part(Point{(x + 0.5) * f.from.by, (y + 0.5) * f.from.by}) }
	for _, s := range f.from.spots {
		if in(s.x, s.y) {
			all++
		}
	}
	for _, p := range f.pairs {
		if in(p.from.X, p.from.Y) {
			borne++
		}
	}
	return borne >= leastAround && float64(borne) >= seenAgain*float64(all)
}

// Tones are the mean of what is seen at places of a part of the earlier picture, as the root of its light, and the standard
// deviation of it, before and now.
func (f *Lie) Tones(places []Point) (before, now Tone) {
	before = toneOf(places, func(p Point) float32 { return f.from.at(p.X/f.from.by, p.Y/f.from.by) })
	now = toneOf(places, func(p Point) float32 {
		to := f.onSheet(Point{p.X / f.from.by, p.Y / f.from.by})
		return f.to.at(to.X, to.Y)
	})
	return before, now
}

// Tone is a mean and its standard deviation, as roots of light with white at 1.
type Tone struct{ Mean, Uneven float64 }

func toneOf(places []Point, seen func(Point) float32) (t Tone) {
	squares := 0.0
	for _, at := range places {
		v := float64(seen(at))
		t.Mean += v / float64(len(places))
		squares += v * v / float64(len(places))
	}
	t.Uneven = math.Sqrt(max(0, squares-t.Mean*t.Mean))
	return t
}
