// Package stats holds the statistics of draws and of readings as pure functions of numbers:
// quantiles, ranks, and Sen's slopes with Kendall's limits.
package stats

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"panecore/reports"
)

// Z90 bounds 90 % of a normal distribution on both sides, in standard deviations.
const Z90 = 1.6448536269514722

// Quantile is the value below which a share q of the values lies, linear between
// neighbours. It reorders them. It is our own, since gonum's wants them sorted, which takes
// longer, and interpolates by another definition.
func Quantile(values []float64, q float64) float64 { return ranked(values, 1+q*float64(len(values)-1)) }

// ranked is the value at a rank counted from 1, ranks between whole ones
// interpolated. It reorders the values.
func ranked(values []float64, rank float64) float64 {
	whole, part := math.Modf(rank)
	k := int(whole) - 1
	arrange(values, k)
	if part == 0 || math.IsInf(values[k], 1) { // what never comes is no further off from another
		return values[k]
	}
	return values[k] + part*(slices.Min(values[k+1:])-values[k])
}

// arrange puts the value that sorting would put at k there, nothing greater before
// it and nothing less behind (Hoare's selection; little more than half of a sort's
// time for the three quantiles of an estimate).
func arrange(values []float64, k int) {
	for low, high := 0, len(values)-1; low < high; {
		pivot := values[low+(high-low)/2]
		i, j := low, high
		for i <= j {
			for values[i] < pivot {
				i++
			}
			for values[j] > pivot {
				j--
			}
			if i <= j {
				values[i], values[j] = values[j], values[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			high = j
		case k >= i:
			low = i
		default:
			return
		}
	}
}

// Spread is the median of draws with their 5-95 % range. It reorders them.
func Spread(draws []float64) reports.Estimate {
	last := float64(len(draws) - 1)
	value, low, high := middleAnd(draws, 1+0.05*last, 1+0.95*last)
	return reports.Estimate{Value: value, Low: low, High: high}
}

// middleAnd is the median of values and what stands at a rank below and one above it.
func middleAnd(values []float64, below, above float64) (median, low, high float64) {
	middle := 0.5 * float64(len(values)-1)
	median = ranked(values, 1+middle)
	at := int(middle) // what is less lies before it now, what is greater behind
	return median, ranked(values[:at+1], below), ranked(values[at:], above-float64(at))
}

// Ranks are the places of values in their order, ties sharing the mean of theirs; gonum has
// none with ties.
func Ranks(values []float64) []float64 {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	out := make([]float64, len(values))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && values[order[j]] == values[order[i]] {
			j++
		}
		for _, k := range order[i:j] {
			out[k] = float64(i+j-1) / 2
		}
		i = j
	}
	return out
}

// Correlation is Pearson's, of ranks therefore Spearman's; 0 where one does not vary.
func Correlation(x, y []float64) float64 {
	if r := stat.Correlation(x, y, nil); !math.IsNaN(r) {
		return r
	}
	return 0
}
