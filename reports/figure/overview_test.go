package figure

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/reports"
)

// pressing is an invented overview: a tank in trouble, one that was never read, one that
// is left as it is.
func pressing() reports.Overview {
	estimate := func(value, low, high float64) *reports.Estimate {
		return &reports.Estimate{Value: value, Low: low, High: high}
	}
	days := 12
	core := thinCore()
	left := core
	left.Station = "left"
	return reports.Overview{Today: 20012, Tanks: []reports.OverviewLine{
		{ID: "weir", Name: "Weir", Action: reports.Siphon, Confidence: 0.93, Mulm: estimate(54, 49, 58), OxicDepth: estimate(9.8, 8.6, 13.5),
			Accumulation: estimate(3.4, 3, 3.8), DaysSince: &days, NextReading: 20007, Due: true, Cores: []reports.Core{core, left}},
		{ID: "sluice", Due: true},
		{ID: "race", Name: "Race", Action: reports.Leave, Confidence: 1, Mulm: estimate(20, 18, 22), DaysSince: &days, NextReading: 20030, Cores: []reports.Core{core}},
	}}
}

// However many tanks and stations, words stand clear of each other and within the picture.
func TestOverview_wordsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var o reports.Overview
		o.Today = 20000
		for i := range rapid.IntRange(0, 70).Draw(t, "tanks") {
			line := reports.OverviewLine{ID: fmt.Sprint("tank ", i), Due: rapid.Bool().Draw(t, "due")}
			if rapid.Bool().Draw(t, "read") {
				line.Name = "A tank whose keeper gave it the longest name that a logbook takes, of 80 letters"
				line.Action, line.Confidence = reports.Siphon, 0.5
				line.OxicDepth = &reports.Estimate{Value: 1900, Low: 1800, High: 2000, AtLeast: true}
				for range rapid.IntRange(0, 6).Draw(t, "stations") {
					line.Cores = append(line.Cores, drawnCore(t))
				}
			}
			o.Tanks = append(o.Tanks, line)
		}
		clear(t, Overview(o, layers.Inches))
	})
}
