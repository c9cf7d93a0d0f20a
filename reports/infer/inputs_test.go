package infer

import (
	"math"
	"testing"

	"panecore/layers/bed"
	"panecore/reports/internal/testbeds"
	"panecore/reports/stats"
)

// TestShape: the 5 and 95 % ends of a range stand where the range has them.
func TestShape(t *testing.T) {
	s := newShape(bed.Range{Low: 100, Default: 400, High: 2000})
	for z, want := range map[float64]float64{-stats.Z90: 100, 0: 400, stats.Z90: 2000} {
		testbeds.Near(t, "shape", s.at(z), want, 1e-9*want)
	}
}

// Two cores that read alike don't err alike: their dice are their own, whatever their names
// have in common.
func TestDice_areTheirOwn(t *testing.T) {
	const draws = 2000
	var fell [][]float64
	for _, of := range [][]string{{"vat", "left"}, {"vat", "right"}, {"vatleft", ""}, {"vat"}} {
		dice, list := newDice(1, of...), make([]float64, draws)
		for n := range list {
			dice.begin(2 * n)
			list[n] = dice.normal()
		}
		fell = append(fell, list)
	}
	for i, one := range fell {
		for j, other := range fell[:i] {
			if r := stats.Correlation(one, other); math.Abs(r) > 4/math.Sqrt(draws) {
				t.Errorf("dice %d and %d correlate by %.2f", i, j, r)
			}
		}
	}
}
