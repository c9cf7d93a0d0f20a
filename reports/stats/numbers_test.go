package stats

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"panecore/reports/internal/testbeds"
)

// TestRanked_isWhatSortingGives holds the selection against a full sort.
func TestRanked_isWhatSortingGives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-9, 9), 1, 60).Draw(t, "values")
		for range rapid.IntRange(0, 5).Draw(t, "ties") {
			values = append(values, values[0])
		}
		for range rapid.IntRange(0, 3).Draw(t, "never") {
			values = append(values, math.Inf(1))
		}
		rank := rapid.Float64Range(1, float64(len(values))).Draw(t, "rank")
		sorted := slices.Sorted(slices.Values(values))
		low := sorted[int(rank)-1]
		want := low
		if part := rank - math.Floor(rank); part > 0 && !math.IsInf(low, 1) {
			want += part * (sorted[int(rank)] - low)
		}
		if got := ranked(values, rank); got != want && !(math.Abs(got-want) <= 1e-12) {
			t.Fatalf("rank %v of %v: %v, want %v", rank, sorted, got, want)
		}
	})
}

// TestCorrelation holds Spearman's coefficient against the printed example of ten
// pupils' IQ and hours of television, -29/165 (a textbook example, from memory).
func TestCorrelation(t *testing.T) {
	iq := []float64{106, 100, 86, 101, 99, 103, 97, 113, 112, 110}
	hours := []float64{7, 27, 2, 50, 28, 29, 20, 12, 6, 17}
	testbeds.Near(t, "Spearman", Correlation(Ranks(iq), Ranks(hours)), -29./165, 1e-9)
}
