package reports

import "math"

// The decimals of findings: finer than any of them is known, and coarse enough to hide the last bits
// of a processor's sums.
const (
	LengthDigits  = 2 // mm
	RateDigits    = 3 // mm a month
	ShareDigits   = 4
	AmmoniaDigits = 5 // mg N/L
	OxygenDigits  = 2 // mg/L
)

// Round is x rounded to so many decimals.
func Round(x float64, digits int) float64 {
	scale := math.Pow10(digits)
	if x = math.Round(x*scale) / scale; x == 0 {
		return 0 // not the negative zero, which JSON would show
	}
	return x
}

// Rounded is the estimate rounded to so many decimals.
func (e Estimate) Rounded(digits int) *Estimate {
	e.Value, e.Low, e.High = Round(e.Value, digits), Round(e.Low, digits), Round(e.High, digits)
	return &e
}
