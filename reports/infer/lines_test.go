package infer

import (
	"math"
	"math/rand/v2"
	"testing"

	"panecore/reports/internal/testbeds"
	"panecore/reports/stats"
)

// TestLines_holdTheTruth: of 200 simulated stations, straight lines read with spotError and typed
// to the millimetre, 85 to 96 % of the bands hold the true line at the first reading, in the
// middle and at the last. The ends lie at four standard deviations of 200 trials about 90 %
// on one side; of 3,000 stations 90 to 92 % held it with 12 and 24 readings.
func TestLines_holdTheTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(200, 1))
	const stations = 200
	var held [3]int
	for range stations {
		n := stats.ExactBelow + rng.IntN(20)
		start, slope := 5+10*rng.Float64(), 0.3+2.7*rng.Float64()
		var b stats.Block
		for month := range n {
			truth := start + slope*float64(month)
			b.T, b.Y = append(b.T, float64(month)), append(b.Y, max(1, math.Round(truth+spotError*rng.NormFloat64())))
		}
		points := rateOf([]stats.Block{b}).lines([]stats.Block{b}, testbeds.Day("2024-01-01"))[0].Points
		for i, month := range []int{0, n / 2, n - 1} {
			if truth := start + slope*float64(month); points[month].Low <= truth && truth <= points[month].High {
				held[i]++
			}
		}
	}
	for i, where := range []string{"first reading", "middle", "last reading"} {
		share := 100 * float64(held[i]) / stations
		t.Logf("%-13s %.1f %% of the bands hold the true line", where, share)
		if share < 85 || share > 96 {
			t.Errorf("%s: %.1f %% held, want 85 to 96 %%", where, share)
		}
	}
}
