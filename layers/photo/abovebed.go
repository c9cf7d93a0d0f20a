package photo

import "math"

// How a reading that begins in the water is noticed (assumptions, tried on drawn and practice pictures).
const (
	waterDeep = 2.0 // mm below the surface read that the water ends, at least
	waterNear = 2.0 // mm between where the water ends and an edge
)

// waters is how many layers at the top of the strip look like water: those above the edge near which the water is seen to
// end.
func (s *strata) waters() int {
	end, found := s.field.waterline()
	if !found || (end.row-s.level[0])*s.field.pitch < waterDeep {
		return 0
	}
	best, at := waterNear/s.field.pitch, 0
	for k := 1; k < len(s.level); k++ {
		if off := math.Abs(s.level[k] - end.row); off <= best {
			best, at = off, k
		}
	}
	return at
}
