package reports

import (
	"math"
	"slices"
)

// z90 bounds 90 % of a normal distribution on both sides, in standard deviations.
const z90 = 1.6448536269514722

// quantile is the value below which a share q of sorted values lies, linear
// between neighbours.
func quantile(sorted []float64, q float64) float64 {
	at := q * float64(len(sorted)-1)
	low := int(at)
	if low == len(sorted)-1 {
		return sorted[low]
	}
	return sorted[low] + (at-float64(low))*(sorted[low+1]-sorted[low])
}

// normalQuantile is the inverse of the normal distribution function.
func normalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// chiSquareQuantile is the inverse of the chi-square distribution function after
// Wilson & Hilferty 1931, good to 1 % from two degrees of freedom on.
func chiSquareQuantile(p float64, freedom int) float64 {
	v := 2 / (9 * float64(freedom))
	x := 1 - v + normalQuantile(p)*math.Sqrt(v)
	return float64(freedom) * x * x * x
}

// spread is the median of draws with their 5-95 % range; it sorts them.
func spread(draws []float64) Estimate {
	slices.Sort(draws)
	return Estimate{Value: quantile(draws, 0.5), Low: quantile(draws, 0.05), High: quantile(draws, 0.95)}
}

// The digits that findings are given with: finer than any of them is known, and
// coarse enough that the last bits of a processor's sums never show.
const (
	lengthDigits  = 2 // mm
	rateDigits    = 3 // mm a month
	shareDigits   = 4
	ammoniaDigits = 5 // mg N/L
)

func round(x float64, digits int) float64 {
	scale := math.Pow10(digits)
	if x = math.Round(x*scale) / scale; x == 0 {
		return 0 // not the negative zero, which JSON would show
	}
	return x
}

// rounded gives an estimate with so many decimals.
func (e Estimate) rounded(digits int) *Estimate {
	e.Value, e.Low, e.High = round(e.Value, digits), round(e.Low, digits), round(e.High, digits)
	return &e
}
