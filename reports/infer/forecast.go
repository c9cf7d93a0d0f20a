package infer

import (
	"math"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/stats"
)

// furthestYears is how far ahead a date is still worth giving, years (assumption).
const furthestYears = 50

// forecast is when the mulm reaches its limit, from the draws of its thickness at the newest core
// and of its rate; nil: the rate is not known.
func (o *Outlook) forecast(sim *Simulation) *reports.Forecast {
	if o.Growth == nil {
		return nil
	}
	limit := o.Limit(layers.LimitMulm)
	date := func(q float64) *layers.Date {
		at := stats.Quantile(sim.untilLimit, q)
		if at > furthestYears*12 {
			return nil
		}
		d := o.LastRead() + layers.Date(math.Round(at*layers.DaysPerMonth))
		return &d
	}
	return &reports.Forecast{LimitMM: limit, Earliest: date(0.05), Expected: date(0.5), Latest: date(0.95)}
}

// courseMonths is how far ahead, at most, a course goes that does not reach the limit within the
// length of the record, months (assumption).
const courseMonths = 24

// Course is the tank's mulm from the newest core on, a point a month and one at the end. Each draw
// goes on at its own rate, but not below zero, and a point is their median with its 5-95 % range. So
// the first is the mulm as read; and if the mulm grows in every draw, the median meets the limit on
// f's Expected day, High on its Earliest and Low on its Latest, if the course goes that far. It is
// empty if the rate is not known, and one point if the limit is reached.
func (o *Outlook) Course(sim *Simulation, f *reports.Forecast) []reports.TrendPoint {
	points := []reports.TrendPoint{}
	if f == nil {
		return points
	}
	begin, end := o.LastRead(), o.courseEnd(f)
	thickness := make([]float64, len(sim.mulm))
	add := func(day layers.Date) {
		months := begin.Months(day)
		for i, now := range sim.ahead {
			thickness[i] = max(0, now.After(months))
		}
		points = append(points, trendPoint(day, stats.Spread(thickness)))
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

// courseEnd is the last day of the course: when the limit is reached, but no further ahead than the
// record is long, which is all it can show.
func (o *Outlook) courseEnd(f *reports.Forecast) layers.Date {
	span := layers.Date(o.Growth.SpanDays)
	if f.Expected != nil && *f.Expected-o.LastRead() <= span {
		return *f.Expected
	}
	return o.LastRead() + min(span, layers.Date(math.Round(courseMonths*layers.DaysPerMonth)))
}
