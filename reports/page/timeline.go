package page

import (
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/timeline"
	"panecore/reports/words"
)

type overTime struct {
	Picture  picture
	Frames   string  // how the front moves against the floor and the surface; empty: not known
	Forecast string  // empty: none
	Trends   []trend // by station, then for all if there are several
}

type trend struct {
	Station       string
	Growth, Shift number
}

func newTimeline(t reports.Timeline, u layers.Units) *overTime {
	if len(t.Stations) == 0 {
		return nil
	}
	v := &overTime{Picture: newPicture(timeline.Figure(t, timeline.Options{Units: u})), Frames: words.Frames(t.FrontShift, t.FloorShift, u)}
	if t.LimitReached != nil {
		v.Forecast = words.Forecast(*t.LimitReached, t.AsOf, u)
	}
	rate := words.Rate(u)
	for _, s := range words.Rates(t) {
		v.Trends = append(v.Trends, trend{s.Station, newNumber("accumulation of mulm", s.Growth, rate), newNumber(words.FrontShift(s.Shift), s.Shift, rate)})
	}
	return v
}
