package trend

import (
	"math"
	"testing"

	"panecore/reports/internal/testbeds"
)

// Worked by hand: what a course is to do without still has 1e-4 mm of room, which is what the tolerances
// allow for.

// TestNew_oneDay: readings of one station on one day say nothing but its level. Their precisions add up with
// that of what is thought before, and the mean lies between the two.
func TestNew_oneDay(t *testing.T) {
	f := New(&Record{
		Current:  []bool{true},
		Readings: []Reading{{T: 3, Y: 19}, {T: 3, Y: 20}, {T: 3, Y: 20}, {T: 3, Y: 22, Error: 1.5}},
	})
	// Lowest middle 20; station's level open by 2 + 0.15 · 20 = 5 mm, its rate by 0.05 + 0.3 · 0 mm a month.
	before := 100.0*100 + 5*5
	var precision, sum float64
	for i, y := range []float64{-1, 0, 0, 2} {
		variance := f.Error * f.Error
		if i == 3 {
			variance += 1.5 * 1.5
		}
		precision += f.Sound[i] / variance
		sum += f.Sound[i] / variance * y
	}
	if len(f.States) != len(drifts) {
		t.Fatalf("%d ways, want one for each drift: a day shows neither decay nor season", len(f.States))
	}
	for _, s := range f.States {
		testbeds.Near(t, "level", s.Level, 20+sum/(precision+1/before), 1e-6)
		testbeds.Near(t, "error of the level", s.levelError, 1/math.Sqrt(precision+1/before), 1e-6)
		testbeds.Near(t, "rate", s.Rate, 0, 1e-6)
		testbeds.Near(t, "error of the rate", s.rateError, math.Hypot(slopePrior, 0.05), 1e-6)
	}
}

// TestNew_twoReadings: two readings on an even course, two months apart, by the formula for two correlated
// normal quantities. What is thought before hardly counts, so the rate is near their slope.
func TestNew_twoReadings(t *testing.T) {
	f := New(&Record{Current: []bool{true}, Readings: []Reading{{T: 5, Y: 10}, {T: 7, Y: 14}}})
	const months = 2.0
	// Usual growth 2 and lowest middle 10: the station's level is open by 3.5 mm, its rate by 0.65 mm a month.
	both, tank, own := 100.0*100+3.5*3.5, slopePrior*slopePrior, 0.65*0.65
	// The tank's slope counts from the first reading, the station's rate back from the last.
	a := both + own*months*months + f.Error*f.Error/f.Sound[0]
	b := both + tank*months*months + f.Error*f.Error/f.Sound[1]
	det := a*b - both*both
	toFirst, toLast := -own*months, tank*months // covariances of the rate with the two
	even := f.States[0]
	if even.Drift != 0 || even.Decay != 0 || even.Season {
		t.Fatalf("the first way is %+v, want the even one", even)
	}
	testbeds.Near(t, "rate", even.Rate, (toLast*a-toFirst*both)/det*4, 1e-5)
	reduced := (toFirst*toFirst*b - 2*toFirst*toLast*both + toLast*toLast*a) / det
	testbeds.Near(t, "error of the rate", even.rateError, math.Sqrt(tank+own-reduced), 1e-5)
	testbeds.Near(t, "rate beside the slope", even.Rate, 2, 0.15)
}
