// Package stats holds the statistics of draws as pure functions of numbers: quantiles, ranks and
// correlations.
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

// Quantile is the value below which a share q, 0 to 1, of the values lies, linear between neighbours.
// It reorders them. Gonum's needs them sorted, which takes longer, and interpolates by another
// definition.
func Quantile(values []float64, q float64) float64 { return ranked(values, 1+q*float64(len(values)-1)) }

// ranked is the value at a rank counted from 1, interpolated between whole ranks. It reorders the
// values.
func ranked(values []float64, rank float64) float64 {
	whole, part := math.Modf(rank)
	k := int(whole) - 1
	arrange(values, k)
	if part == 0 || math.IsInf(values[k], 1) { // +Inf less itself would be NaN
		return values[k]
	}
	return values[k] + part*(slices.Min(values[k+1:])-values[k])
}

// arrange puts the value that sorting would put at k there, with nothing greater before it and
// nothing less after it (Hoare's selection: three quantiles take little more than half the time of a
// sort).
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

// Spread is the median of draws with their 5-95 % range. It reorders the draws.
func Spread(draws []float64) reports.Estimate {
	last := float64(len(draws) - 1)
	middle := 0.5 * last
	at := int(middle)
	value := ranked(draws, 1+middle) // which puts what is less before it and what is greater after it
	return reports.Estimate{Value: value, Low: ranked(draws[:at+1], 1+0.05*last), High: ranked(draws[at:], 1+0.95*last-float64(at))}
}

// Ranks are the ranks of values from 0; ties share their mean rank, which gonum does not offer.
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

// Correlation is Pearson's, so Spearman's for ranks; 0 if one side does not vary.
func Correlation(x, y []float64) float64 {
	if r := stat.Correlation(x, y, nil); !math.IsNaN(r) {
		return r
	}
	return 0
}
