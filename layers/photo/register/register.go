// Package register finds how a picture of a pane lies to an earlier one: by what both show alike, wherever that is, since what
// is taped to a pane stays and the bed behind it changes.
package register

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"panecore/layers/photo/picture"
)

// Point is a place in an upright picture, pixels.
type Point struct{ X, Y float64 }

// Lie is how one picture lies to another: a plane seen from another place, tilted little.
type Lie struct {
	plane    plane
	from, to *sheet
	pairs    []pair  // that bear it
	rival    float64 // of the next best fit, how many pairs for one of this one
}

// pair is a place of one sheet seen in the other.
type pair struct{ from, to Point }

// plane maps places: x' = (a x + b y + c) / (1 + g x + h y), y' = (d x + e y + f) / (1 + g x + h y); a to h in order, of places
// from the sheet's middle in units of half its longer side.
type plane [8]float64

func (p plane) at(x, y float64) Point {
	w := 1 + p[6]*x + p[7]*y
	return Point{(p[0]*x + p[1]*y + p[2]) / w, (p[3]*x + p[4]*y + p[5]) / w}
}

// unit converts a sheet's place to units of half its longer side from its middle, and back.
func (s *sheet) unit(at Point) Point {
	half := float64(max(s.w, s.h)) / 2
	return Point{(at.X - float64(s.w)/2) / half, (at.Y - float64(s.h)/2) / half}
}

func (s *sheet) place(unit Point) Point {
	half := float64(max(s.w, s.h)) / 2
	return Point{unit.X*half + float64(s.w)/2, unit.Y*half + float64(s.h)/2}
}

// onSheet is where a place of the earlier sheet lies on the new one.
func (f *Lie) onSheet(at Point) Point {
	u := f.from.unit(at)
	return f.to.place(f.plane.at(u.X, u.Y))
}

// At is where a place of the earlier picture lies in the new one.
func (f *Lie) At(p Point) Point {
	to := f.onSheet(Point{p.X/f.from.by - 0.5, p.Y/f.from.by - 0.5})
	return Point{(to.X + 0.5) * f.to.by, (to.Y + 0.5) * f.to.by}
}

// Scale is how many times as large the earlier picture's middle is seen in the new one.
func (f *Lie) Scale() float64 {
	det := f.plane[0]*f.plane[4] - f.plane[1]*f.plane[3]
	return math.Sqrt(max(0, det)) * float64(max(f.to.w, f.to.h)) / float64(max(f.from.w, f.from.h)) * f.to.by / f.from.by
}

// Turn is by what angle it is turned, clockwise, in radians.
func (f *Lie) Turn() float64 { return math.Atan2(f.plane[3]-f.plane[1], f.plane[0]+f.plane[4]) }

// How sheets are matched (assumptions, tried on drawn and path-traced pictures that were shifted, turned, scaled and lit
// otherwise, some with another bed).
const (
	leastLike   = 0.80 // correlation of two places, at least
	rivalLike   = 0.85 // of the next likest place elsewhere, as a share of the likest: it has to be less
	rivalAway   = 6.0  // pixels: what is nearer is the same place
	farthest    = 0.3  // that a place moves, as a share of the longer side
	tries       = 3000 // pairs of pairs that are tried
	nearFirst   = 2.5  // pixels that a pair may lie off while only shift, turn and scale are known
	nearTilted  = 4.0  // while the tilt is found
	nearFit     = 1.2  // at last
	leastApart  = 60.0 // pixels between the two pairs tried
	leastBorne  = 14   // that bear a fit
	closer      = 3    // pixels on each side where a place is looked for again
	closeLike   = 0.8  // correlation there, at least
	passesFit   = 3
	cellBorne   = 0.4 // of the spots of a cell that bear the fit: fewer do by chance
	leastInCell = 2
)

// scales are by how much larger the new picture may be, for the first comparison (assumption: a hand holds the camera as far
// away as last time to a fifth, and neighbours are like enough).
var scales = [...]float64{0.85, 1, 1.18}

// Find finds how a picture lies to an earlier one; false: it is not seen.
func Find(earlier, now *picture.Picture) (*Lie, bool) {
	from, to := newSheet(earlier), newSheet(now)
	pairs := matches(from, to)
	rng := rand.New(rand.NewPCG(1, 2)) // the same pictures lie the same way every time
	best, left := likeliest(from, to, pairs, rng)
	if len(best.pairs) < leastBorne {
		return nil, false
	}
	second, _ := likeliest(from, to, left, rng)
	best.rival = float64(len(second.pairs)) / float64(len(best.pairs))
	for range passesFit {
		best.refine()
	}
	if len(best.pairs) < leastBorne {
		return nil, false
	}
	return best, true
}

// matches are the spots of a sheet with the places that look like them on the other, each the likest to the other.
func matches(from, to *sheet) []pair {
	theirs := make([]facet, len(to.spots))
	for i, s := range to.spots {
		theirs[i] = to.facetAt(s.x, s.y, Point{1, 0})
	}
	type hit struct {
		to   int
		like float32
	}
	hits := make([]hit, len(from.spots))
	back := make([]hit, len(to.spots))
	for i := range back {
		back[i].to = -1
	}
	var crew sync.WaitGroup
	for first := range workers {
		crew.Go(func() {
			likes := make([]float32, len(theirs))
			for i := first; i < len(from.spots); i += workers {
				at, like := from.likest(from.spots[i], to, theirs, likes)
				hits[i] = hit{at, like}
			}
		})
	}
	crew.Wait()
	for i, h := range hits {
		if h.to >= 0 && h.like > back[h.to].like {
			back[h.to] = hit{i, h.like}
		}
	}
	var pairs []pair
	for at, h := range back {
		if h.to >= 0 {
			pairs = append(pairs, pair{Point{from.spots[h.to].x, from.spots[h.to].y}, Point{to.spots[at].x, to.spots[at].y}})
		}
	}
	return pairs
}

// likest is the spot of the other sheet that looks like this one and like no other; -1: there is none.
func (s *sheet) likest(one spot, to *sheet, theirs []facet, likes []float32) (at int, like float32) {
	reach := farthest * float64(max(to.w, to.h))
	middle := to.place(s.unit(Point{one.x, one.y}))
	at = -1
	for i := range likes {
		likes[i] = -1
	}
	for _, by := range scales {
		own := s.facetAt(one.x, one.y, Point{1 / by, 0})
		for i := range theirs {
			other := to.spots[i]
			if math.Abs(other.x-middle.X) > reach || math.Abs(other.y-middle.Y) > reach {
				continue
			}
			if l := own.like(&theirs[i]); l > likes[i] {
				likes[i] = l
				if l > like {
					at, like = i, l
				}
			}
		}
	}
	if like < leastLike {
		return -1, 0
	}
	for i, l := range likes {
		if l > rivalLike*like && math.Hypot(to.spots[i].x-to.spots[at].x, to.spots[i].y-to.spots[at].y) > rivalAway {
			return -1, 0
		}
	}
	return at, like
}

// The likeliest shift, turn and scale stay within these (assumptions: the same hand at the same pane).
const (
	mostTurn    = 12 * math.Pi / 180
	mostLarger  = 1.45
	leastLarger = 1 / mostLarger
)

// likeliest is the shift, turn and scale that most pairs agree on, and the pairs that don't.
func likeliest(from, to *sheet, pairs []pair, rng *rand.Rand) (best *Lie, left []pair) {
	best = &Lie{from: from, to: to}
	if len(pairs) < 2 {
		return best, pairs
	}
	most := 0
	for range tries {
		a, b := pairs[rng.IntN(len(pairs))], pairs[rng.IntN(len(pairs))]
		model, ok := similar(from, to, a, b)
		if !ok {
			continue
		}
		f := Lie{plane: model, from: from, to: to}
		if n := f.count(pairs); n > most {
			most, best.plane = n, model
		}
	}
	if most == 0 {
		return best, pairs
	}
	best.pairs, _ = best.split(pairs, nearFirst)
	for range passesFit {
		best.solve()
		best.pairs, left = best.split(pairs, nearTilted)
	}
	return best, left
}

// split tells the pairs that lie near from the others.
func (f *Lie) split(pairs []pair, within float64) (near, far []pair) {
	for _, p := range pairs {
		if f.off(p) <= within {
			near = append(near, p)
		} else {
			far = append(far, p)
		}
	}
	return near, far
}

func (f *Lie) off(p pair) float64 {
	at := f.onSheet(p.from)
	return math.Hypot(at.X-p.to.X, at.Y-p.to.Y)
}

func (f *Lie) count(pairs []pair) (n int) {
	for _, p := range pairs {
		if f.off(p) <= nearFirst {
			n++
		}
	}
	return n
}

// similar is the shift, turn and scale that takes two places to two others.
func similar(from, to *sheet, a, b pair) (plane, bool) {
	if math.Hypot(a.from.X-b.from.X, a.from.Y-b.from.Y) < leastApart {
		return plane{}, false
	}
	p, q, r, s := from.unit(a.from), from.unit(b.from), to.unit(a.to), to.unit(b.to)
	was, is := complex(q.X-p.X, q.Y-p.Y), complex(s.X-r.X, s.Y-r.Y)
	turn := is / was
	size, angle := math.Hypot(real(turn), imag(turn)), math.Atan2(imag(turn), real(turn))
	if size < leastLarger || size > mostLarger || math.Abs(angle) > mostTurn {
		return plane{}, false
	}
	shift := complex(r.X, r.Y) - turn*complex(p.X, p.Y)
	return plane{real(turn), -imag(turn), real(shift), imag(turn), real(turn), imag(shift), 0, 0}, true
}

// refine looks for every spot near where the fit has it, and fits anew by those found.
func (f *Lie) refine() {
	found := make([]*pair, len(f.from.spots))
	var crew sync.WaitGroup
	for first := range workers {
		crew.Go(func() {
			for i := first; i < len(found); i += workers {
				if p, ok := f.again(Point{f.from.spots[i].x, f.from.spots[i].y}); ok {
					found[i] = &p
				}
			}
		})
	}
	crew.Wait()
	f.pairs = f.pairs[:0]
	for _, p := range found {
		if p != nil {
			f.pairs = append(f.pairs, *p)
		}
	}
	f.solve()
	f.pairs, _ = f.split(f.pairs, nearFit)
	f.dropStrays()
}

// dropStrays drops pairs amid places that are not seen again.
func (f *Lie) dropStrays() {
	type cell [2]int
	of := func(x, y float64) cell { return cell{int(x-spotMargin) / spotCell, int(y-spotMargin) / spotCell} }
	all, borne := map[cell]int{}, map[cell]int{}
	for _, s := range f.from.spots {
		all[of(s.x, s.y)]++
	}
	for _, p := range f.pairs {
		borne[of(p.from.X, p.from.Y)]++
	}
	f.pairs = slices.DeleteFunc(f.pairs, func(p pair) bool {
		in := of(p.from.X, p.from.Y)
		return borne[in] < min(leastInCell, all[in]) || float64(borne[in]) < cellBorne*float64(all[in])
	})
}

// again is where a place is seen on the new sheet, near where the fit has it.
func (f *Lie) again(at Point) (pair, bool) {
	middle := f.onSheet(at)
	if middle.X < spotMargin || middle.Y < spotMargin || middle.X > float64(f.to.w-spotMargin) || middle.Y > float64(f.to.h-spotMargin) {
		return pair{}, false
	}
	beside, below := f.onSheet(Point{at.X + 1, at.Y}), Point{}
	below.X, below.Y = beside.X-middle.X, beside.Y-middle.Y
	own := f.from.facetAt(at.X, at.Y, Point{1, 0})
	var likes [2*closer + 1][2*closer + 1]float32
	bestX, bestY := 0, 0
	for dy := range likes {
		for dx := range likes[dy] {
			other := f.to.facetAt(middle.X+float64(dx-closer), middle.Y+float64(dy-closer), below)
			likes[dy][dx] = own.like(&other)
			if likes[dy][dx] > likes[bestY][bestX] {
				bestX, bestY = dx, dy
			}
		}
	}
	if likes[bestY][bestX] < closeLike || bestX == 0 || bestY == 0 || bestX == 2*closer || bestY == 2*closer {
		return pair{}, false
	}
	fine := func(before, top, after float32) float64 {
		return float64((before - after) / 2 / (before - 2*top + after))
	}
	dx := fine(likes[bestY][bestX-1], likes[bestY][bestX], likes[bestY][bestX+1])
	dy := fine(likes[bestY-1][bestX], likes[bestY][bestX], likes[bestY+1][bestX])
	return pair{at, Point{middle.X + float64(bestX-closer) + dx, middle.Y + float64(bestY-closer) + dy}}, true
}
