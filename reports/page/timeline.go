package page

import (
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/timeline"
	"panecore/reports/words"
)

// overTime is the record over time.
type overTime struct {
	Picture  picture
	Forecast string  // empty: none
	Trends   []trend // by station, then for all if there are several
}

// trend is how fast a station changes.
type trend struct {
	Station       string
	Growth, Shift number
}

func newTimeline(t reports.Timeline, u layers.Units) *overTime {
	if len(t.Stations) == 0 {
		return nil
	}
	v := &overTime{Picture: newPicture(timeline.Figure(t, timeline.Options{Units: u}))}
	if t.LimitReached != nil {
		v.Forecast = words.Forecast(*t.LimitReached, t.AsOf, u)
	}
	for _, s := range t.Stations {
		v.Trends = append(v.Trends, newTrend(s.Station, s.Accumulation, s.FrontShift, u))
	}
	if len(t.Stations) > 1 {
		v.Trends = append(v.Trends, newTrend("all stations", t.Accumulation, t.FrontShift, u))
	}
	return v
}

func newTrend(station string, growth, shift *reports.Estimate, u layers.Units) trend {
	return trend{station, newNumber("accumulation of mulm", growth, words.Rate(u)), newNumber(frontShift(shift), shift, words.Rate(u))}
}

// frontShift names the shift of the front and its direction.
func frontShift(shift *reports.Estimate) string {
	if shift == nil {
		return "front shift"
	}
	return "front shift, " + words.Front(*shift)
}
