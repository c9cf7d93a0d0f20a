package photo

import (
	"math"
	"slices"
)

// The keeper's click on the bed surface is good to surfaceClick mm (standard deviation); an
// edge further off than surfaceReach is another (assumptions).
const (
	surfaceClick = 1.0
	surfaceReach = 3.0
)

// findSurface is which edge is the bed surface: of those near the click the one that stands out
// most for its distance. Where none is near, one is set at the click.
func (s *strata) findSurface(click float64) int {
	best, at := 0.0, -1
	for k := range s.level {
		off := (s.level[k] - click) * s.field.pitch
		if math.Abs(off) > surfaceReach {
			continue
		}
		z := off / surfaceClick
		if p := distance(s.looks[k].mean, s.looks[k+1].mean) * math.Exp(-z*z/2); p > best {
			best, at = p, k
		}
	}
	if at >= 0 {
		return at
	}
	k, _ := slices.BinarySearch(s.level, click)
	s.level = slices.Insert(s.level, k, click)
	for b := range s.at {
		place := click
		if k > 0 {
			place = max(place, s.at[b][k-1])
		}
		if k < len(s.at[b]) {
			place = min(place, s.at[b][k])
		}
		s.at[b] = slices.Insert(s.at[b], k, place)
	}
	s.looks = s.field.looks(s.warp)
	return k
}
