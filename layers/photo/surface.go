package photo

import (
	"math"
	"slices"
)

// How far the bed surface may lie from the keeper's click, mm (assumptions).
const (
	surfaceClick = 1.5 // standard deviation
	surfaceReach = 3.0 // at most
)

// setSurface finds the bed surface and drops the edges above it. It is the edge near the click
// that stands out most for its distance; if there is none, an edge is set at the click. The
// looks of the water and the layers are learned anew.
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

// insert adds a level edge at a row before edge k.
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
