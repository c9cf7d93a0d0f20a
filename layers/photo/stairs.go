package photo

import "math"

// segmentation is a cut profile: cuts[i] is the first row of segment i+1.
type segmentation struct {
	sums *sums
	rows int
	cuts []int
}

// bounds are the first row of segment i and the row after its last.
func (s *segmentation) bounds(i int) (from, to int) {
	if i > 0 {
		from = s.cuts[i-1]
	}
	to = s.rows
	if i < len(s.cuts) {
		to = s.cuts[i]
	}
	return from, to
}

func (s *segmentation) mean(i int) [3]float64 { return s.sums.mean(s.bounds(i)) }

func distance(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// stairDetour is how much longer the way between two colours may be through a third that passes
// as their mixture (assumption, tested on rendered strips).
const stairDetour = 1.25

// mergeStairs removes segments that are only the smear of an uneven boundary: no thicker than
// thickest rows, and of a colour between those of their neighbours. A single boundary at the
// best row replaces each.
func (s *segmentation) mergeStairs(thickest int) {
	for i := 1; i < len(s.cuts); {
		from, to := s.bounds(i)
		above, here, below := s.mean(i-1), s.mean(i), s.mean(i+1)
		if to-from > thickest || distance(above, here)+distance(here, below) > stairDetour*distance(above, below) {
			i++
			continue
		}
		top, _ := s.bounds(i - 1)
		_, bottom := s.bounds(i + 1)
		s.cuts[i-1] = s.bestCut(top, from, to, bottom)
		s.cuts = append(s.cuts[:i], s.cuts[i+1:]...)
		i = max(1, i-1)
	}
}

// bestCut is the row between from and to where a cut of top to bottom into two means fits best.
func (s *segmentation) bestCut(top, from, to, bottom int) int {
	best, at := math.Inf(1), from
	for cut := from; cut <= to; cut++ {
		if cost := s.sums.cost(top, cut) + s.sums.cost(cut, bottom); cost < best {
			best, at = cost, cut
		}
	}
	return at
}
