package reports

import (
	"math"

	"panecore/layers"
)

// furthestYears is how far ahead a date is still worth writing (assumption).
const furthestYears = 50

// forecast is when the mulm reaches its limit, by the draws of its thickness at the newest core
// and its rate. Nil where the rate is not known.
func (o *outlook) forecast(sim *simulation) *Forecast {
	if o.growth == nil {
		return nil
	}
	limit := o.limits[layers.LimitMulm].value
	date := func(q float64) *layers.Date {
		at := quantile(sim.untilLimit, q)
		if at > furthestYears*12 {
			return nil
		}
		d := o.lastRead() + layers.Date(math.Round(at*layers.DaysPerMonth))
		return &d
	}
	return &Forecast{LimitMM: limit, Earliest: date(0.05), Expected: date(0.5), Latest: date(0.95)}
}

// courseMonths is how far ahead a forecast is drawn that reaches no limit within the length
// of the record, or the record's length where that is less (assumption: one longer than the
// record says nothing that a picture should show).
const courseMonths = 24

// course is the tank's mulm from the newest core on, a point a month and one at its end: each draw goes
// on at its own rate, but never below nothing, and a point is their median with its 5-95 %
// range. So the first is the mulm as read, and where the bed grows in every draw, the middle meets
// the limit on f's Expected day, High on its Earliest, and Low on its Latest, if the course goes
// so far. It is empty where the rate is not known, and one point where the limit is reached.
func (o *outlook) course(sim *simulation, f *Forecast) []TrendPoint {
	points := []TrendPoint{}
	if f == nil {
		return points
	}
	begin, end := o.lastRead(), o.courseEnd(f)
	thickness := make([]float64, len(sim.mulm))
	add := func(day layers.Date) {
		months := begin.Months(day)
		for i, now := range sim.mulm {
			thickness[i] = max(0, now+months*sim.growth[i])
		}
		points = append(points, trendPoint(day, spread(thickness)))
	}
	for month := 0; ; month++ {
		day := begin + layers.Date(math.Round(float64(month)*layers.DaysPerMonth))
		if day >= end {
			break
		}
		add(day)
	}
	add(end)
	return points
}

// courseEnd is the last day of the course.
func (o *outlook) courseEnd(f *Forecast) layers.Date {
	span := layers.Date(o.growth.spanDays)
	if f.Expected != nil && *f.Expected-o.lastRead() <= span {
		return *f.Expected
	}
	return o.lastRead() + min(span, layers.Date(math.Round(courseMonths*layers.DaysPerMonth)))
}

// monthsTo is the time until a growing thickness reaches a limit, +Inf: never.
func monthsTo(limit, now, growth float64) float64 {
	switch {
	case now >= limit:
		return 0
	case growth <= 0:
		return math.Inf(1)
	}
	return (limit - now) / growth
}
