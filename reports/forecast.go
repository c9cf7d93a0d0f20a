package reports

import (
	"math"

	"panecore/layers"
)

// furthestYears is how far ahead a date is still worth writing (assumption).
const furthestYears = 50

// forecast is when the mulm reaches its limit, by the draws of its thickness now
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
		d := o.asOf + layers.Date(math.Round(at*layers.DaysPerMonth))
		return &d
	}
	return &Forecast{LimitMM: limit, Earliest: date(0.05), Expected: date(0.5), Latest: date(0.95)}
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
