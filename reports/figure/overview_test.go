package figure

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
)

// pressing is an invented overview: a tank in trouble, one that was never read, one that
// is left as it is while a runaway is under way in it.
func pressing() reports.Overview {
	estimate := func(value, low, high float64) *reports.Estimate {
		return &reports.Estimate{Value: value, Low: low, High: high}
	}
	days, likely := 12, 0.87
	core := thinCore()
	left := core
	left.Station = "left"
	return reports.Overview{Today: 20012, Tanks: []reports.OverviewLine{
		{ID: "weir", Name: "Weir", Action: reports.Siphon, Confidence: 0.93, Clarity: reports.FairlyClear, Reliable: true, Mulm: estimate(54, 49, 58), OxicDepth: estimate(9.8, 8.6, 13.5),
			Accumulation: estimate(3.4, 3, 3.8), DaysSince: &days, NextReading: 20007, Due: true, Cores: []reports.Core{core, left, core, left, core, left},
			How: "Start an air stone first: with the water as it is, hardly any share of the floor stays within the limits. Then siphon the top mulm only, from at most 20 % of the floor at a time, two to four weeks apart."},
		{ID: "sluice", Due: true},
		{ID: "leat", Name: "Leat", Action: reports.Leave, Confidence: 1, Clarity: reports.Clear, WaterFirst: []string{"Animals gasped (2024-10-01, yesterday)."}, Mulm: estimate(20, 18, 22), DaysSince: &days, NextReading: 20014, Due: true, Cores: []reports.Core{core}},
		{ID: "race", Name: "Race", Action: reports.Leave, Confidence: 1, Clarity: reports.FairlyClear, LimitedBy: []string{"one station only"}, Reliable: true, Mulm: estimate(20, 18, 22), DaysSince: &days, NextReading: 20030, Cores: []reports.Core{core},
			Watch: &reports.Watch{Probability: &likely, Since: 19940, NextReading: 20030}},
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
				line.How = strings.Repeat("Set an air stone going first. ", rapid.IntRange(0, 8).Draw(t, "how"))
				likely := rapid.Float64Range(0, 1).Draw(t, "runaway")
				line.Watch = &reports.Watch{Probability: &likely, Since: 19940}
				line.OxicDepth = &reports.Estimate{Value: 1900, Low: 1800, High: 2000, AtLeast: true}
				for range rapid.IntRange(0, 6).Draw(t, "stations") {
					line.Cores = append(line.Cores, drawnCore(t))
				}
			}
			o.Tanks = append(o.Tanks, line)
		}
		testpictures.Clear(t, Overview(o, layers.Inches))
	})
}

// A hand in the bed is never advised without its condition, stations that have no room are
// counted, and the scale is that of the cores.
func TestOverview_said(t *testing.T) {
	f := Overview(pressing(), layers.MM)
	found := testpictures.MarksOf(f).Words()
	for _, want := range []string{"Start an air stone first: with the water as it is,", "+2 more stations"} {
		if !slices.Contains(found, want) {
			t.Errorf("found no %q in %q", want, found)
		}
	}
	if !strings.Contains(f.Desc, "siphon the top, 93 of 100 draws (Start an air stone first:") {
		t.Errorf("described as %q, without the condition", f.Desc)
	}
	const told = "A runaway is under way with a probability of 87 %"
	if !strings.Contains(strings.Join(found, " "), told) || !strings.Contains(f.Desc, told) {
		t.Errorf("found no %q in %q, described as %q", told, found, f.Desc)
	}
	if want := "all 1 : 1.8 in print;"; !strings.Contains(strings.Join(found, " "), want) || overviewScale(pressing()) != 1/1.8 {
		t.Errorf("found no %q in %q, at a scale of %v", want, found, overviewScale(pressing()))
	}
}
