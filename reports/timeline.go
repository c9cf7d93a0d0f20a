package reports

import (
	"cmp"
	"slices"

	"panecore/layers"
)

// TimelineFormat names the JSON form of a Timeline.
const TimelineFormat = "panecore-timeline/1"

// Timeline is a tank's record as it went: each station's cores, the events between,
// and the trends.
type Timeline struct {
	Format       string        `json:"format"`
	ID           string        `json:"id"`
	Name         string        `json:"name"`
	AsOf         layers.Date   `json:"as_of"`
	SetUp        layers.Date   `json:"set_up"` // zero: not given
	Stations     []StationLine `json:"stations"`
	Events       []EventMark   `json:"events"`
	Mulm         *Estimate     `json:"mulm_mm"`       // of the tank now
	OxicDepth    *Estimate     `json:"oxic_depth_mm"` // of the tank now
	Accumulation *Estimate     `json:"accumulation_mm_per_month"`
	FrontShift   *Estimate     `json:"front_shift_mm_per_month"`
	LimitReached *Forecast     `json:"limit_reached"`
	Forecast     []TrendPoint  `json:"forecast"` // the tank's mulm from its newest core on; empty: its rate is not known
	Notices      []string      `json:"notices"`
}

// StationLine is a station's cores by date, and its own trends where it has any.
type StationLine struct {
	Station      string      `json:"station"`
	Cores        []Core      `json:"cores"`
	Accumulation *Estimate   `json:"accumulation_mm_per_month"`
	FrontShift   *Estimate   `json:"front_shift_mm_per_month"`
	Mulm         []TrendLine `json:"mulm_trend"`  // of the mulm's foot
	Front        []TrendLine `json:"front_trend"` // of the colour oxic depth
	Gaps         []Gap       `json:"gaps"`
}

// EventMark is an event between the cores. Share is of the floor or the water.
type EventMark struct {
	Date    layers.Date      `json:"date"`
	Kind    layers.EventKind `json:"kind"`
	Share   *float64         `json:"share,omitempty"`
	DepthMM *float64         `json:"depth_mm,omitempty"`
	Note    string           `json:"note,omitempty"`
}

// NewTimeline makes a tank's timeline.
func NewTimeline(tank layers.Tank, s Settings) Timeline {
	var sim simulation
	o, found := sim.judge(tank, s)
	return o.timeline(&sim, found, s)
}

// timeline is the record behind a tank's findings.
func (o *outlook) timeline(sim *simulation, found Tank, s Settings) Timeline {
	line := Timeline{
		Format: TimelineFormat, ID: found.ID, Name: found.Name, AsOf: found.AsOf, SetUp: o.tank.SetUp,
		Stations: []StationLine{}, Events: []EventMark{}, Mulm: found.Mulm, OxicDepth: found.OxicDepth,
		Accumulation: found.Accumulation, FrontShift: found.FrontShift,
		LimitReached: found.LimitReached, Forecast: o.course(sim, found.LimitReached), Notices: found.Notices,
	}
	for _, core := range o.history(s) {
		i, known := slices.BinarySearchFunc(line.Stations, core.Station, func(l StationLine, name string) int { return cmp.Compare(l.Station, name) })
		if !known {
			line.Stations = slices.Insert(line.Stations, i, StationLine{Station: core.Station})
		}
		line.Stations[i].Cores = append(line.Stations[i].Cores, core)
	}
	for i := range line.Stations {
		line.Stations[i].trends(o)
	}
	for _, e := range o.tank.Events {
		line.Events = append(line.Events, EventMark{e.Date, e.Kind, e.Share, e.DepthMM, e.Note})
	}
	slices.SortStableFunc(line.Events, func(a, b EventMark) int { return cmp.Compare(a.Date, b.Date) })
	return line
}

// trends finds the station's own rates and lines: those of a tank that has no other station.
func (l *StationLine) trends(o *outlook) {
	var own []*reading
	for _, r := range o.readings {
		if r.core.Station == l.Station {
			own = append(own, r)
		}
	}
	first, last := own[0].core.Date, own[len(own)-1]
	mulm, front := blocksOf(own, mulmOf), blocksOf(own, frontOf)
	growth, shift := rateOf(mulm), rateOf(front)
	l.Mulm, l.Front, l.Gaps = growth.lines(mulm, first), shift.lines(front, first), gapsOf(own)
	if growth == nil && o.tank.SetUp != 0 {
		if growth = sinceSetUp([]*reading{last}, int(last.core.Date-o.tank.SetUp)); growth != nil {
			growth.over(*l.Cores[len(l.Cores)-1].Mulm)
		}
	}
	if growth != nil {
		l.Accumulation = growth.rounded(rateDigits)
	}
	if shift != nil {
		l.FrontShift = shift.rounded(rateDigits)
	}
}
