package bed_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers/bed"
)

// TestCourse_halvedStep: half the step gives the same course within 0.01 mg/L, and so
// does the coarse step.
func TestCourse_halvedStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDay(t)
		coarse := d
		coarse.Step = bed.CoarseStep
		fine := d.Course()
		for _, steps := range []bed.Day{d.Halved(), coarse, coarse.Halved()} {
			other := steps.Course()
			for _, o := range [][2]float64{{fine.Minimum, other.Minimum}, {fine.Maximum, other.Maximum}, {fine.Mean, other.Mean}} {
				if math.Abs(o[0]-o[1]) > 0.01 {
					t.Fatalf("%+v: %+v, in other steps %+v", d, fine, other)
				}
			}
		}
	})
}

// TestCourse_comesBack: the course ends where it began, its ends are the least and the
// most of every hour, and it never holds less than none.
func TestCourse_comesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDay(t)
		c := d.Course()
		if again := d.Advance(c.Minimum, 0, 24); math.Abs(again-c.Minimum) > 1e-5 {
			t.Fatalf("a day after %g mg/L: %g", c.Minimum, again)
		}
		if c.Minimum < 0 || c.Minimum > c.Mean+1e-3 || c.Mean > c.Maximum+1e-3 {
			t.Fatalf("minimum, mean and maximum %g, %g, %g", c.Minimum, c.Mean, c.Maximum)
		}
		for hour := 0.0; hour < 24; hour++ {
			if o := c.At(hour); o < c.Minimum-1e-5 || o > c.Maximum+1e-5 {
				t.Fatalf("%g mg/L at %g h, outside %g to %g", o, hour, c.Minimum, c.Maximum)
			}
		}
		for _, hour := range []float64{c.MinimumHour, c.MaximumHour} {
			if hour < 0 || hour >= 24 {
				t.Fatalf("hour %g, want one of the clock", hour)
			}
		}
		if o := c.At(c.MinimumHour); math.Abs(o-c.Minimum) > 1e-5 {
			t.Fatalf("%g mg/L at %g h, want the least, %g", o, c.MinimumHour, c.Minimum)
		}
		if o := c.At(c.MaximumHour); math.Abs(o-c.Maximum) > 1e-5 {
			t.Fatalf("%g mg/L at %g h, want the most, %g", o, c.MaximumHour, c.Maximum)
		}
	})
}

// TestCourse_dark: without plants the water settles where the dark column does that
// mixes all the way.
func TestCourse_dark(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDay(t)
		d.PlantOxygen = 0
		d.Column.Mixing = 1e12
		d.Column.Bed.Reduced = 0
		want := d.Column.Steady()
		if got := d.Course(); math.Abs(got.Minimum-want.Bottom) > 1e-3 || math.Abs(got.Maximum-want.Bottom) > 1e-3 {
			t.Fatalf("%+v settles at %+v, want %g mg/L", d, got, want.Bottom)
		}
	})
}

// TestCourse_noneLeft: water that uses more by night than the surface lets in has none
// before long, has none until the lights come on, and rises at once when they do.
func TestCourse_noneLeft(t *testing.T) {
	d := bed.Day{Column: fixedDemand(), LightsOn: 8, LitHours: 10, PlantOxygen: 12}
	d.Column.Respiration = 30 // of which the surface covers 11
	c := d.Course()
	for _, hour := range []float64{3, 5, 7.9, c.MinimumHour} {
		if o := c.At(hour); o != 0 {
			t.Errorf("%g mg/L at %g h, want none", o, hour)
		}
	}
	// At first the surface and the plants give 0.4·8.263 + 12, and the water takes 30·0.3.
	rise := (0.4*8.263 + 12 - 30*0.3) / 0.3 / 24 / 60 // mg/L a minute; the bed's part comes on with oxygen
	if o := c.At(8 + 1.0/60); c.Minimum != 0 || o < 0.7*rise || o > rise {
		t.Errorf("%g mg/L a minute after lights on, want %g or little less", o, rise)
	}
}

// TestFitTransfer_findsBack: the oxygen of a day at any hour gives back a gas transfer
// velocity with which the day passes there, and in the dark the very one.
func TestFitTransfer_findsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDay(t)
		hour := rapid.Float64Range(0, 24).Draw(t, "hour")
		dark := rapid.Bool().Draw(t, "dark")
		if dark {
			d.PlantOxygen = 0
		}
		measured := d.Course().At(hour)
		if measured < 0.1 || math.Abs(measured-d.Column.Saturation) < 0.1 {
			return // says next to nothing of the surface
		}
		guess := d
		guess.Column.Transfer = bed.Gentle.Exchange().Transfer.Default
		fit, err := guess.FitTransfer(measured, hour)
		if err != nil {
			if dark {
				t.Fatal(err)
			}
			return // two velocities so near that both lie between two tries
		}
		fitted := d
		fitted.Column.Transfer = fit
		if got := fitted.Course().At(hour); math.Abs(got-measured) > 1e-3 {
			t.Fatalf("kL %g gives %g mg/L at %g h, want %g", fit, got, hour, measured)
		}
		if dark && math.Abs(fit/d.Column.Transfer-1) > 1e-3 {
			t.Fatalf("kL %g, want %g", fit, d.Column.Transfer)
		}
	})
}

func TestFitTransfer_noneExplains(t *testing.T) {
	d := bed.Day{Column: fixedDemand()}
	_, err := d.FitTransfer(12, 7.5)
	if err == nil || !strings.HasPrefix(err.Error(), "found oxygen 12 mg/L at 7.5 h, want one that") {
		t.Errorf("oxygen above saturation in the dark: error %v", err)
	}
}

func drawDay(t *rapid.T) bed.Day {
	c := drawColumn(t)
	c.Bed.Boundary = max(c.Bed.Boundary, 0.02*bed.Millimeter) // a real film; FuzzColumn tries thinner ones
	return bed.Day{
		Column:      c,
		LightsOn:    rapid.Float64Range(0, 24).Draw(t, "on"),
		LitHours:    rapid.Float64Range(0, 24).Draw(t, "lit"),
		PlantOxygen: rapid.Float64Range(0, 8).Draw(t, "P"),
	}
}

// TestCourse_defaultStep: a day without a step is reckoned in steps of five minutes.
func TestCourse_defaultStep(t *testing.T) {
	d := bed.Day{Column: vessel(bed.Gentle, 0.3), LightsOn: 8, LitHours: 10, PlantOxygen: 4}
	stepped := d
	stepped.Step = 5.0 / (24 * 60)
	usual, same := d.Course(), stepped.Course()
	if usual.Minimum != same.Minimum || usual.Mean != same.Mean {
		t.Errorf("%g to %g mg/L by default, %g to %g in steps of five minutes", usual.Minimum, usual.Maximum, same.Minimum, same.Maximum)
	}
	stepped.Step = 15.0 / (24 * 60)
	if other := stepped.Course(); other.Mean == usual.Mean {
		t.Errorf("the same mean of %g mg/L in steps of a quarter of an hour", other.Mean)
	}
}
