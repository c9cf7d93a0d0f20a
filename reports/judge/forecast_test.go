package judge

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/internal/testbeds"
)

// growing is a tank read for two years at one station, its mulm growing to 46 mm.
func growing() layers.Tank {
	var mm []float64
	for m := range 24 {
		mm = append(mm, 23+float64(m))
	}
	return mulmTank(mm...)
}

// meets is the day on which a line of the course first reaches a depth, straight between its
// points; zero: it does not.
func meets(points []reports.TrendPoint, depth float64, of func(reports.TrendPoint) float64) layers.Date {
	for i, p := range points {
		if of(p) < depth-0.005 { // as the points are rounded
			continue
		}
		if i == 0 {
			return p.Date
		}
		before := points[i-1]
		share := (depth - of(before)) / (of(p) - of(before))
		return before.Date + layers.Date(share*float64(p.Date-before.Date)+0.5)
	}
	return 0
}

// TestCourse_meetsTheLimit: the middle of the course reaches the limit on the day that
// the forecast expects, its upper edge on the earliest, its lower on the latest; two days of 300
// are what rounding and straight lines between the months may take.
func TestCourse_meetsTheLimit(t *testing.T) {
	var sim infer.Simulation
	o, found := judge(&sim, growing(), reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed})
	f := *found.LimitReached
	if f.Latest == nil || int(*f.Latest-o.AsOf) > o.Growth.SpanDays {
		t.Fatalf("forecast %+v of a record of %d days: this test shows nothing", f, o.Growth.SpanDays)
	}
	course := o.Course(&sim, &f)
	if last := course[len(course)-1]; last.Date != *f.Expected {
		t.Errorf("the course ends on %s, want the expected %s", last.Date, *f.Expected)
	}
	long, beyond := f, *f.Latest+2
	long.Expected = &beyond // so that the course goes on until then
	course = o.Course(&sim, &long)
	for _, c := range []struct {
		name string
		want layers.Date
		of   func(reports.TrendPoint) float64
	}{
		{"earliest", *f.Earliest, func(p reports.TrendPoint) float64 { return p.High }},
		{"expected", *f.Expected, func(p reports.TrendPoint) float64 { return p.MM }},
		{"latest", *f.Latest, func(p reports.TrendPoint) float64 { return p.Low }},
	} {
		if got := meets(course, f.LimitMM, c.of); got < c.want-2 || got > c.want+2 {
			t.Errorf("%s: the course meets %v mm on %s, want %s", c.name, f.LimitMM, got, c.want)
		}
	}
}

// TestForecast_never: a bed that does not grow has no day on which it must have reached its limit,
// nor one for which there are hardly any draws.
func TestForecast_never(t *testing.T) {
	f := interpret(mulmTank(20, 20, 20)).LimitReached
	if f == nil || f.Earliest == nil || f.Expected != nil || f.Latest != nil {
		t.Errorf("forecast %+v, want an earliest day only", f)
	}
}

// TestCourse_notFurtherThanTheRecord: a limit far off is not drawn to.
func TestCourse_notFurtherThanTheRecord(t *testing.T) {
	short := NewTimeline(mulmTank(10, 11, 12, 13), testbeds.Few())
	if last := short.Forecast[len(short.Forecast)-1].Date; last != short.AsOf+90 {
		t.Errorf("a record of 90 days is drawn on to %s, want as many days from %s", last, short.AsOf)
	}
	var mm []float64
	for m := range 40 {
		mm = append(mm, 10+float64(m)/4)
	}
	long := NewTimeline(mulmTank(mm...), testbeds.Few())
	if last := long.Forecast[len(long.Forecast)-1].Date; last != long.AsOf+730 {
		t.Errorf("a record of 40 months is drawn on to %s, want two years from %s", last, long.AsOf)
	}
	if n := len(long.Forecast); n != 25 {
		t.Errorf("two years have %d points, want one a month", n)
	}
	for _, tank := range []layers.Tank{{ID: "unread"}, testbeds.Told(mulmTank(10), func(t *layers.Tank) { t.SetUp = 0 })} {
		if points := NewTimeline(tank, testbeds.Few()).Forecast; points == nil || len(points) > 0 {
			t.Errorf("without a rate the course is %+v, want none", points)
		}
	}
	if points := NewTimeline(mulmTank(80, 81, 82), testbeds.Few()).Forecast; len(points) != 1 {
		t.Errorf("beyond the limit the course is %+v, want the mulm now", points)
	}
}

// TestCourse_holdsTogether: whatever the records, the course begins with the tank's mulm now.
func TestCourse_holdsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := NewTimeline(drawRecords(t), testbeds.Few())
		if (len(line.Forecast) == 0) != (line.LimitReached == nil) {
			t.Fatalf("forecast %+v, limit reached %+v", line.Forecast, line.LimitReached)
		}
		if len(line.Forecast) == 0 {
			return
		}
		checkPoints(t, "course", line.Forecast)
		want := reports.TrendPoint{Date: lastReadOf(line), MM: line.Mulm.Value, Low: line.Mulm.Low, High: line.Mulm.High}
		if diff := cmp.Diff(want, line.Forecast[0]); diff != "" {
			t.Fatalf("the first point (-want +got):\n%s", diff)
		}
	})
}

// lastRead is the day of the newest core.
func lastReadOf(l reports.Timeline) (day layers.Date) {
	for _, station := range l.Stations {
		for _, core := range station.Cores {
			day = max(day, core.Date)
		}
	}
	return day
}
