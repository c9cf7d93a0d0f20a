package photo

import (
	"math"
	"slices"
)

// The keeper's click on the bed surface is good to surfaceClick mm (standard deviation); an
// edge further off than surfaceReach is another (assumptions).
const (
	surfaceClick = 1.5
	surfaceReach = 3.0
)

// setSurface makes the edge that is the bed surface the first, dropping those above: of the edges
// near the click the one that stands out most for its distance. Where none is near, one
// is set at the click. It learns what the water and the layers look like.
func (s *strata) setSurface(click float64) {
	looks := s.field.looks(s.warp)
	best, at := 0.0, -1
	for k := range s.level {
		off := (s.level[k] - click) * s.field.pitch
		if math.Abs(off) > surfaceReach {
			continue
		}
		z := off / surfaceClick
		if p := distance(looks[k].mean, looks[k+1].mean) * math.Exp(-z*z/2); p > best {
			best, at = p, k
		}
	}
	if at < 0 {
		at, _ = slices.BinarySearch(s.level, click)
		s.insert(at, click)
		looks = s.field.looks(s.warp)
	}
	s.level = s.level[at:]
	for b := range s.at {
		s.at[b] = s.at[b][at:]
	}
	s.looks = looks[at:]
	s.looks[0] = s.field.lookBetween(s.warp, -1, 0)
	s.looks[0].behind = true
}

// insert adds a level edge before edge k.
func (s *strata) insert(k int, row float64) {
	s.level = slices.Insert(s.level, k, row)
	for b := range s.at {
		place := row
		if k > 0 {
			place = max(place, s.at[b][k-1])
		}
		if k < len(s.at[b]) {
			place = min(place, s.at[b][k])
		}
		s.at[b] = slices.Insert(s.at[b], k, place)
	}
}
