package tagged

import (
	"math"

	"panecore/layers/photo"
	"panecore/layers/tag"
)

// pose is how a tag lies in the shade: shares of its size to pixels, as a plane maps millimetres.
type pose struct {
	photo.Plane
	side  int
	score float64 // share of known modules that are seen as they must be, less those that are not
}

// What three eyes must look like to be of one code: a right angle with legs of one length, tilted (assumptions).
const (
	moduleAlike = 1.7  // the largest module over the smallest, at most
	legsAlike   = 1.35 // the same for the legs
	squareOff   = 0.28 // cosine of the angle between them, at most
	sideOff     = 6    // modules by which the code's side may differ from the distance of the eyes
	leastScore  = 0.6
)

// poses are the ways in which three eyes make a code.
func poses(s *shade, black []bool, eyes []eye) (list []pose) {
	for a := range eyes {
		for b := range eyes {
			for c := range eyes {
				if p, ok := poseOf(s, black, eyes[a], eyes[b], eyes[c]); ok {
					list = append(list, p)
				}
			}
		}
	}
	return list
}

// poseOf takes three eyes for the upper left, upper right and lower left one.
func poseOf(s *shade, black []bool, a, b, c eye) (best pose, ok bool) {
	bx, by, cx, cy := b.x-a.x, b.y-a.y, c.x-a.x, c.y-a.y
	across, down := math.Hypot(bx, by), math.Hypot(cx, cy)
	high, low := max(a.module, b.module, c.module), min(a.module, b.module, c.module)
	if turn := bx*cy - by*cx; turn <= 0 || high > moduleAlike*low || max(across, down) > legsAlike*min(across, down) ||
		math.Abs(bx*cx+by*cy) > squareOff*across*down {
		return best, false
	}
	module := (a.module + b.module + c.module) / 3
	apart := (across+down)/2/module + 7
	for side := 21; side <= tag.MostModules; side += 4 {
		if math.Abs(float64(side)-apart) > sideOff {
			continue
		}
		if p := bestPose(s, black, side, a, b, c); p.score > best.score {
			best = p
		}
	}
	return best, best.score >= leastScore
}

// A pose's fourth corner is looked for this far from where it would be without perspective, in modules.
const (
	cornerReach = 3.5
	cornerStep  = 0.7
)

// bestPose looks for the fourth corner by the modules that all codes share.
func bestPose(s *shade, black []bool, side int, a, b, c eye) (best pose) {
	p := newPattern(side, nil)
	known := p.middles()
	near, far := p.middle(3), p.middle(side-4)
	module := (math.Hypot(b.x-a.x, b.y-a.y) + math.Hypot(c.x-a.x, c.y-a.y)) / 2 / float64(side-7)
	try := func(dx, dy float64) {
		h, ok := through([4][2]float64{{near, near}, {far, near}, {far, far}, {near, far}},
			[4]photo.Point{{X: a.x, Y: a.y}, {X: b.x, Y: b.y}, {X: b.x + c.x - a.x + dx*module, Y: b.y + c.y - a.y + dy*module}, {X: c.x, Y: c.y}})
		if !ok {
			return
		}
		if score := agreement(s, black, h, known); score > best.score {
			best = pose{h, side, score}
		}
	}
	for dy := -cornerReach; dy <= cornerReach; dy += cornerStep {
		for dx := -cornerReach; dx <= cornerReach; dx += cornerStep {
			try(dx, dy)
		}
	}
	return best
}

// agreement is the share of spots that are seen as they must be, less those that are not.
func agreement(s *shade, black []bool, h photo.Plane, spots []spot) float64 {
	sum := 0
	for _, spot := range spots {
		at := h.At(spot.x, spot.y)
		x, y := int(at.X), int(at.Y)
		switch {
		case x < 0 || y < 0 || x >= s.w || y >= s.h:
		case black[y*s.w+x] == spot.black:
			sum++
		default:
			sum--
		}
	}
	return float64(sum) / float64(len(spots))
}

// through is the plane that maps four places to four points; false: three of them lie on a line.
func through(places [4][2]float64, points [4]photo.Point) (h photo.Plane, ok bool) {
	rows := make([][]float64, 0, 8)
	for i, at := range places {
		x, y := at[0], at[1]
		rows = append(rows, []float64{x, y, 1, 0, 0, 0, -x * points[i].X, -y * points[i].X, points[i].X},
			[]float64{0, 0, 0, x, y, 1, -x * points[i].Y, -y * points[i].Y, points[i].Y})
	}
	if !solve(rows) {
		return h, false
	}
	for i := range h {
		h[i] = rows[i][8]
	}
	return h, true
}

// solve solves linear equations, each with its right side last, in place; false: they have no single solution.
func solve(rows [][]float64) bool {
	n := len(rows)
	for i := range n {
		most := i
		for r := i + 1; r < n; r++ {
			if math.Abs(rows[r][i]) > math.Abs(rows[most][i]) {
				most = r
			}
		}
		rows[i], rows[most] = rows[most], rows[i]
		if !(math.Abs(rows[i][i]) > 1e-12) {
			return false
		}
		for r := range n {
			if r == i {
				continue
			}
			f := rows[r][i] / rows[i][i]
			for k := i; k <= n; k++ {
				rows[r][k] -= f * rows[i][k]
			}
		}
	}
	for i := range n {
		rows[i][n] /= rows[i][i]
	}
	return true
}
