package tagged

import (
	"cmp"
	"math"
	"slices"
)

// eye is one of the three squares in squares of a code, in pixels of the shade.
type eye struct {
	x, y   float64
	module float64 // width of one
	rays   int     // of allRays, along which black and white follow as they must
	hits   int     // rows in which it was met
}

// What passes for an eye (assumptions, tried on drawn and path-traced tags). Seen along any line through its middle, an
// eye is black, white, black, white, black in widths of 1:1:3:1:1, whatever its turn.
const (
	leastModule = 1.8  // pixels
	eyeOff      = 0.65 // modules by which a width may be off, and half a pixel
	coreOff     = 1.3  // the same for the middle one
	allRays     = 16
	leastRays   = 11
	sureRays    = 14 // of an eye without a code
	// sureLikeness is the correlation of such an eye with what it must look like: grains have it by chance up to 0.7.
	sureLikeness = 0.8
	mostEyes     = 28
	rowStep      = 2 // rows: the middle of the least eye has five
	leastHits    = 2
)

// eyes finds them, the likeliest first.
func (s *shade) eyes(black []bool) []eye {
	var parts [helpers][]eye
	share(s.h, func(part, from, to int) {
		for y := from; y < to; y += rowStep {
			parts[part] = s.eyesOfRow(parts[part], black, y)
		}
	})
	var list []eye
	for _, e := range slices.Concat(parts[:]...) {
		if e.hits < leastHits {
			continue
		}
		if s.look(black, &e); e.rays >= leastRays {
			list = append(list, e)
		}
	}
	slices.SortStableFunc(list, func(a, b eye) int { return cmp.Or(b.rays-a.rays, b.hits-a.hits) })
	return list[:min(len(list), mostEyes)]
}

// eyesOfRow adds what a row shows to a list.
func (s *shade) eyesOfRow(list []eye, black []bool, y int) []eye {
	var ends [6]int // of the last runs
	last := false
	for x, is := range black[y*s.w : (y+1)*s.w] {
		if is == last {
			continue
		}
		ends, last = [6]int{ends[1], ends[2], ends[3], ends[4], ends[5], x}, is
		if !is {
			list = s.eyeBefore(list, black, ends, y)
		}
	}
	if last {
		list = s.eyeBefore(list, black, [6]int{ends[1], ends[2], ends[3], ends[4], ends[5], s.w}, y)
	}
	return list
}

// eyeBefore adds the eye that a row's last five runs show, the last of them black.
func (s *shade) eyeBefore(list []eye, black []bool, ends [6]int, y int) []eye {
	if float64(ends[5]-ends[0]) < 7*leastModule {
		return list
	}
	var runs [5]int
	for i := range runs {
		runs[i] = ends[i+1] - ends[i]
	}
	if isEye(runs) {
		if e, ok := s.cross(black, float64(ends[2]+ends[3])/2, float64(y)+0.5); ok {
			return join(list, e)
		}
	}
	return list
}

// isEye holds the widths of five runs against those of an eye.
func isEye(runs [5]int) bool {
	module := float64(runs[0]+runs[1]+runs[2]+runs[3]+runs[4]) / 7
	if module < leastModule {
		return false
	}
	for i, run := range runs {
		want, off := module, eyeOff*module+0.5
		if i == 2 {
			want, off = 3*module, coreOff*module+0.5
		}
		if math.Abs(float64(run)-want) > off {
			return false
		}
	}
	return true
}

// cross looks at a place along its column and once more along the row of the middle found there.
func (s *shade) cross(black []bool, x, y float64) (e eye, ok bool) {
	col, row := int(x), int(y)
	if !black[row*s.w+col] {
		return e, false
	}
	down, off := s.runs(black, row*s.w+col, s.w, row, s.h-1-row)
	if !isEye(down) {
		return e, false
	}
	y = float64(row) + 0.5 + off
	row = int(y)
	if !black[row*s.w+col] {
		return e, false
	}
	across, off := s.runs(black, row*s.w+col, 1, col, s.w-1-col)
	if !isEye(across) {
		return e, false
	}
	sum := 0
	for i := range down {
		sum += down[i] + across[i]
	}
	return eye{x: float64(col) + 0.5 + off, y: y, module: float64(sum) / 14, hits: 1}, true
}

// runs are the widths of the five runs around a black place, along steps with so much room before and after, and by how
// much the middle of the third lies after the place.
func (s *shade) runs(black []bool, at, step, before, after int) (runs [5]int, off float64) {
	back, on := ray(black, at, -step, before), ray(black, at, step, after)
	return [5]int{back[2], back[1], back[0] + on[0] + 1, on[1], on[2]}, float64(on[0]-back[0]) / 2
}

// ray counts black, white and black after a black place.
func ray(black []bool, at, step, room int) (n [3]int) {
	run, colour := 0, true
	for range room {
		at += step
		if black[at] != colour {
			colour = !colour
			if run++; run == len(n) {
				break
			}
		}
		n[run]++
	}
	return n
}

// join adds an eye to one that is in the same place, or to the list.
func join(list []eye, e eye) []eye {
	for i := len(list) - 1; i >= 0; i-- {
		o := &list[i]
		if math.Abs(o.x-e.x)+math.Abs(o.y-e.y) < 1.5*o.module {
			n := float64(o.hits)
			o.x, o.y, o.module = (n*o.x+e.x)/(n+1), (n*o.y+e.y)/(n+1), (n*o.module+e.module)/(n+1)
			o.hits++
			return list
		}
	}
	return append(list, e)
}

// squareMean is the mean distance of a square's rim from its middle along all directions, in halves of its side.
const squareMean = 1.1222

// look counts the rays from an eye's middle along which black and white follow as they must, and measures it by them.
func (s *shade) look(black []bool, e *eye) {
	var sum float64
	for i := range allRays {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / allRays)
		var rims [3]float64
		n, colour := 0, true
		for r := 0.0; r < 8*e.module && n < len(rims); r += 0.5 {
			x, y := int(e.x+r*cos), int(e.y+r*sin)
			if x < 0 || y < 0 || x >= s.w || y >= s.h {
				break
			}
			if black[y*s.w+x] != colour {
				colour = !colour
				rims[n] = r
				n++
			}
		}
		if n < len(rims) || !about(rims[1]/rims[0], 5.0/3) || !about(rims[2]/rims[1], 7.0/5) {
			continue
		}
		e.rays++
		sum += rims[2]
	}
	if e.rays > 0 {
		e.module = sum / float64(e.rays) / (3.5 * squareMean)
	}
}

// about reports that a ratio is near another.
func about(ratio, want float64) bool { return ratio > 0.68*want && ratio < 1.5*want }

// likeness is the greatest correlation of an eye and its white rim with what they must look like, over all turns.
func (s *shade) likeness(e eye) (best float64) {
	const turns, modules = 12, 9 // over a quarter turn; along each side
	for turn := range turns {
		sin, cos := math.Sincos(math.Pi / 2 * float64(turn) / turns)
		var sum, squares, cross, inks, n float64
		for i := range 4 * modules * modules { // two by two places in each module
			dx, dy := (float64(i%(2*modules))+0.5)/2-modules/2.0, (float64(i/(2*modules))+0.5)/2-modules/2.0
			x, y := int(e.x+e.module*(cos*dx-sin*dy)), int(e.y+e.module*(sin*dx+cos*dy))
			if x < 0 || y < 0 || x >= s.w || y >= s.h {
				continue
			}
			r := max(math.Abs(dx), math.Abs(dy))
			ink := 1.0
			if r < 1.5 || r > 2.5 && r < 3.5 {
				ink = -1
			}
			v := float64(s.v[y*s.w+x])
			sum, squares, cross, inks, n = sum+v, squares+v*v, cross+v*ink, inks+ink, n+1
		}
		spread := (squares/n - sum*sum/(n*n)) * (1 - inks*inks/(n*n))
		best = max(best, (cross/n-sum/n*inks/n)/math.Sqrt(max(spread, 1e-9)))
	}
	return best
}
