package tagged

import (
	"math"
	"slices"

	"panecore/layers/photo"
	"panecore/layers/tag"
)

// ideal is what a tag would show through a blurred lens: 1 for black, 0 for white.
type ideal struct {
	x0, y0 float64 // its corner, in shares of the tag's size
	fine   float64 // points per share
	w      int
	v      []float32
}

// How finely it is drawn (assumptions): so many points along a module, each the mean of so many places along its side.
const (
	pointsPerModule = 4
	placesPerPoint  = 3
)

// newIdeal draws a pattern without blur. Modules not known are half black.
func newIdeal(p *pattern) *ideal {
	const margin = 4.0 // modules beside the marks
	t := &ideal{fine: pointsPerModule / p.module}
	t.x0 = -tag.Arm - margin*p.module
	t.y0 = t.x0
	t.w = int((1 - 2*t.x0) * t.fine)
	t.v = make([]float32, t.w*t.w)
	inks := [...]float32{unknown: 0.5, white: 0, black: 1}
	step := 1 / t.fine / placesPerPoint
	for row := range t.w * placesPerPoint {
		y := t.y0 + (float64(row)+0.5)*step
		for col := range t.w * placesPerPoint {
			ink := inks[p.at(t.x0+(float64(col)+0.5)*step, y)]
			t.v[row/placesPerPoint*t.w+col/placesPerPoint] += ink / (placesPerPoint * placesPerPoint)
		}
	}
	return t
}

// samples are what the spots show through a blur of a normal deviation in modules.
func (t *ideal) samples(spots []spot, blur float64) []sample {
	through := *t
	through.v = slices.Clone(t.v)
	through.blur(blur * pointsPerModule)
	list := make([]sample, len(spots))
	for i, s := range spots {
		list[i] = through.at(s)
	}
	return list
}

// blur averages with normal weights along rows and then columns; beyond the edge all is white.
func (t *ideal) blur(deviation float64) {
	reach := int(3 * deviation)
	weights := make([]float32, 2*reach+1)
	var sum float32
	for i := range weights {
		d := float64(i-reach) / deviation
		weights[i] = float32(math.Exp(-d * d / 2))
		sum += weights[i]
	}
	line := make([]float32, t.w+2*reach)
	for _, axis := range [][2]int{{t.w, 1}, {1, t.w}} { // from line to line, along a line
		for i := range t.w {
			for k := range t.w {
				line[reach+k] = t.v[i*axis[0]+k*axis[1]]
			}
			for k := range t.w {
				var v float32
				for n, weight := range weights {
					v += weight * line[k+n]
				}
				t.v[i*axis[0]+k*axis[1]] = v / sum
			}
		}
	}
}

// at is what a spot shows.
func (t *ideal) at(s spot) sample {
	col, row := int((s.x-t.x0)*t.fine), int((s.y-t.y0)*t.fine)
	at := row*t.w + col
	slope := func(step int) float64 { return float64(t.v[at+step]-t.v[at-step]) * t.fine / 2 }
	// The place is that of the point, which the spot is near.
	return sample{t.x0 + (float64(col)+0.5)/t.fine, t.y0 + (float64(row)+0.5)/t.fine, float64(t.v[at]), slope(1), slope(t.w)}
}

// sample is a place on the tag with what an ideal tag shows there, and how that changes along x and y.
type sample struct{ x, y, black, dx, dy float64 }

// fitted is a pose laid over a patch.
type fitted struct {
	h    photo.Plane // shares of the tag's size to the patch's pixels
	rest float64     // typical difference between what is seen and what should be, as a share of the step from black to white
}

// A fit ends when no corner moves by fitDone pixels any more, or after fitSteps (assumptions).
const (
	fitDone  = 0.005
	fitSteps = 15
	// A difference counts half that is so many times the typical one and such a share of the step from black to white:
	// most places are far from any edge and differ little.
	strayed    = 1.0
	strayedInk = 0.2
)

// fit moves a plane so that the pattern lies on what the patch shows, by least squares of light (Gauss and Newton; Lucas
// and Kanade 1981). Paper and ink are as light as they are nearby. What fits badly, as a hard shadow's edge, counts less.
func fit(c *patch, h photo.Plane, samples []sample) (f fitted, ok bool) {
	f.h = h
	for step := range fitSteps {
		seen, ok := c.sees(f.h, samples)
		if !ok {
			return f, false
		}
		compare(seen, samples)
		rest := typical(seen)
		rows := normal(f.h, samples, seen, rest)
		if !solve(rows) {
			return f, false
		}
		f.rest = rest
		before := f.h
		for i := range f.h {
			f.h[i] += rows[i][len(f.h)]
		}
		if step > 1 && moved(before, f.h) < fitDone {
			break
		}
	}
	return f, f.rest > 0
}

// moved is the most that a corner moves between two planes, pixels.
func moved(a, b photo.Plane) (most float64) {
	for _, c := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		p, q := a.At(c[0], c[1]), b.At(c[0], c[1])
		most = max(most, math.Hypot(p.X-q.X, p.Y-q.Y))
	}
	return most
}

// sight is what the patch shows at a sample.
type sight struct {
	light  float64
	inside bool
	off    float64 // from what it should be
	ink    float64 // by how much ink is lighter than paper there: below 0
}

// sees looks at the samples; false: too few of them are in the patch.
func (c *patch) sees(h photo.Plane, samples []sample) (list []sight, ok bool) {
	list = make([]sight, len(samples))
	n := 0
	for i, s := range samples {
		at := h.At(s.x, s.y)
		list[i].light, list[i].inside = c.at(at.X, at.Y)
		if list[i].inside {
			n++
		}
	}
	return list, n > 0 && n >= len(samples)*3/4
}

// Cells in which the light of paper and of ink are measured (assumption: a cell is about a module).
const (
	lightCells = 36
	lightReach = 2 // cells on each side that are averaged
)

// cellOf is the cell of a place on a tag.
func cellOf(x, y float64) int {
	at := func(v float64) int {
		return min(lightCells-1, max(0, int((v+tag.Arm)/(1+2*tag.Arm)*lightCells)))
	}
	return at(y)*lightCells + at(x)
}

// compare measures paper and ink around each sample and by how much it is off.
func compare(seen []sight, samples []sample) {
	var paper, ink, papers, inks [lightCells * lightCells]float64
	for i, s := range samples {
		if !seen[i].inside {
			continue
		}
		at := cellOf(s.x, s.y)
		p, k := (1-s.black)*(1-s.black), s.black*s.black
		p, k = p*p, k*k // what lies near an edge says little
		paper[at], papers[at] = paper[at]+p*seen[i].light, papers[at]+p
		ink[at], inks[at] = ink[at]+k*seen[i].light, inks[at]+k
	}
	for _, list := range [][]float64{paper[:], papers[:], ink[:], inks[:]} {
		spreadOut(list)
	}
	for i, s := range samples {
		at := cellOf(s.x, s.y)
		p := paper[at] / max(papers[at], 1e-9)
		seen[i].ink = ink[at]/max(inks[at], 1e-9) - p
		seen[i].off = seen[i].light - p - s.black*seen[i].ink
	}
}

// spreadOut adds to each cell its neighbours along rows and columns, those farther away with less weight.
func spreadOut(cells []float64) {
	line := make([]float64, lightCells)
	for _, axis := range [][2]int{{lightCells, 1}, {1, lightCells}} {
		for i := range lightCells {
			clear(line)
			for k := range line {
				for d := -lightReach; d <= lightReach; d++ {
					if n := k + d; n >= 0 && n < lightCells {
						line[k] += cells[i*axis[0]+n*axis[1]] * float64(lightReach+1-max(d, -d))
					}
				}
			}
			for k, v := range line {
				cells[i*axis[0]+k*axis[1]] = v
			}
		}
	}
}

// typical is the median of what samples are off, as a share of the step from ink to paper, to a hundredth.
func typical(seen []sight) float64 {
	var counts [100]int
	all := 0
	for _, s := range seen {
		if s.inside && s.ink < 0 {
			counts[min(len(counts)-1, int(math.Abs(s.off/s.ink)*float64(len(counts))))]++
			all++
		}
	}
	if all < len(seen)/2 {
		return 1
	}
	below, i := 0, 0
	for ; below <= all/2; i++ {
		below += counts[i]
	}
	return float64(i) / float64(len(counts))
}

// normal are the normal equations of one step. The slope of the light is that of an ideal tag through the plane: that of
// the patch has its noise.
func normal(h photo.Plane, samples []sample, seen []sight, rest float64) (rows [][]float64) {
	const n = len(h)
	var sums [n][n + 1]float64
	for i, s := range samples {
		if !seen[i].inside || seen[i].ink >= 0 {
			continue
		}
		w := h[6]*s.x + h[7]*s.y + 1
		x, y := (h[0]*s.x+h[1]*s.y+h[2])/w, (h[3]*s.x+h[4]*s.y+h[5])/w
		xu, xv := h[0]-x*h[6], h[1]-x*h[7]
		yu, yv := h[3]-y*h[6], h[4]-y*h[7]
		// A step of light in shares of ink, so that a tag's dark half counts as the light one.
		gx, gy := (s.dx*yv-s.dy*yu)/(xu*yv-xv*yu), (s.dy*xu-s.dx*xv)/(xu*yv-xv*yu)
		along := gx*x + gy*y
		j := [n + 1]float64{gx * s.x, gx * s.y, gx, gy * s.x, gy * s.y, gy, -along * s.x, -along * s.y, -seen[i].off / seen[i].ink}
		k := j[n] / (strayed*rest + strayedInk)
		weight := 1 / (1 + k*k)
		for a := range n {
			for b := a; b <= n; b++ {
				sums[a][b] += weight * j[a] * j[b]
			}
		}
	}
	for a := range n {
		for b := range a {
			sums[a][b] = sums[b][a]
		}
		rows = append(rows, sums[a][:])
	}
	return rows
}
