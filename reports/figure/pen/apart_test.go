package pen

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The places are the best of all that keep apart, by the sum of squares.
func TestApart_best(t *testing.T) {
	const pitch, low, high = 10.0, 0.0, 200.0
	rapid.Check(t, func(t *rapid.T) {
		wanted := rapid.SliceOfN(rapid.Float64Range(-50, 250), 1, 20).Draw(t, "wanted")
		got := Apart(wanted, pitch, low, high)
		cost := func(places []float64) (sum float64) {
			for i, p := range places {
				sum += (p - wanted[i]) * (p - wanted[i])
			}
			return sum
		}
		holds := func(places []float64, slack float64) bool {
			for i := 1; i < len(places); i++ {
				if places[i]-places[i-1] < pitch-slack {
					return false
				}
			}
			return places[0] >= low-slack && places[len(places)-1] <= high+slack
		}
		if !holds(got, 1e-9) {
			t.Fatalf("%v are too close or out of bounds", got)
		}
		for range 20 { // the sum of squares has one minimum: a step to a better place would show
			other := slices.Clone(got)
			from := rapid.IntRange(0, len(got)-1).Draw(t, "from")
			to := rapid.IntRange(from, len(got)-1).Draw(t, "to")
			step := rapid.Float64Range(-3, 3).Draw(t, "step")
			for i := from; i <= to; i++ {
				other[i] += step
			}
			if holds(other, 0) && cost(other) < cost(got)-1e-6 {
				t.Fatalf("%v cost less than %v", other, got)
			}
		}
	})
}
