package judge

import (
	"cmp"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
)

// NewTimeline makes a tank's timeline.
func NewTimeline(tank layers.Tank, s reports.Settings) reports.Timeline {
	var sim infer.Simulation
	c, found := judge(&sim, tank, s)
	return timeline(c.Outlook, &sim, found, s)
}

// timeline puts the record behind a tank's findings in order.
func timeline(o *infer.Outlook, sim *infer.Simulation, found reports.Tank, s reports.Settings) reports.Timeline {
	line := reports.Timeline{
		Format: reports.TimelineFormat, ID: found.ID, Name: found.Name, AsOf: found.AsOf, SetUp: o.Tank.SetUp,
		Stations: []reports.StationLine{}, Events: []layers.Event{}, Mulm: found.Mulm, OxicDepth: found.OxicDepth,
		Accumulation: found.Accumulation, FrontShift: found.FrontShift, FloorShift: found.FloorShift, Watch: found.Watch,
		LimitReached: found.LimitReached, Forecast: o.Course(sim, found.LimitReached), Notices: found.Notices,
	}
	for _, core := range o.History(s) {
		i, known := slices.BinarySearchFunc(line.Stations, core.Station, func(l reports.StationLine, name string) int { return cmp.Compare(l.Station, name) })
		if !known {
			line.Stations = slices.Insert(line.Stations, i, reports.StationLine{Station: core.Station})
		}
		line.Stations[i].Cores = append(line.Stations[i].Cores, core)
	}
	for i := range line.Stations {
		o.Trends(&line.Stations[i])
	}
	line.Events = append(line.Events, o.Tank.Events...)
	slices.SortStableFunc(line.Events, func(a, b layers.Event) int { return cmp.Compare(a.Date, b.Date) })
	return line
}
