package table

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/judge"
)

// monthly is a tank read monthly at two stations, with a siphoning between.
func monthly(months int) layers.Tank {
	share, depth := 0.25, 20.0
	first, err := layers.ParseDate("2025-03-04")
	if err != nil {
		panic(err)
	}
	tank := layers.Tank{
		ID: "kettle", Name: "Kettle", SetUp: first - 200, Flow: layers.Livestock,
		Native: []layers.Native{{Kind: layers.Sand, Color: hex("#d9cba6")}},
		Events: []layers.Event{
			{Date: first + 150, Kind: layers.EventSiphon, Share: &share, DepthMM: &depth, Note: "the left half"},
			{Date: first + 170, Kind: layers.EventReplant},
		},
	}
	for m := range months {
		for i, station := range []string{"front", "left"} {
			grown := float64(8 + 3*(m%5) + i)
			tank.Cores = append(tank.Cores, layers.Core{Date: first + layers.Date(30*m), Station: station, Layers: []layers.Layer{
				{ThicknessMM: grown, Color: hex("#8b6a48")}, {ThicknessMM: 4, Color: hex("#ae6931")},
				{ThicknessMM: 20, Color: hex("#3d3c35")}, {ThicknessMM: 40, Color: hex("#d6c7a4")},
			}})
		}
	}
	return tank
}

var few = reports.Settings{Draws: 200, Seed: 1}

func timeline(t interface{ Fatal(...any) }, tank layers.Tank, o Options) string {
	var b strings.Builder
	if err := WriteTimeline(&b, judge.NewTimeline(tank, few), o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestWriteTimeline_golden(t *testing.T) {
	golden(t, "timeline_80.txt", timeline(t, monthly(8), Options{Width: 80}))
	golden(t, "timeline_60_ascii_in.txt", timeline(t, monthly(14), Options{Width: 60, ASCII: true, Units: layers.Inches}))
	golden(t, "timeline_80_swatch.txt", timeline(t, monthly(3), Options{Width: 80, Swatch: true}))
	golden(t, "timeline_unread.txt", timeline(t, layers.Tank{ID: "new"}, Options{Width: 80}))
}

// TestWriteTimeline_everyEventOnce: an event stands once at each station, whatever the
// width breaks.
func TestWriteTimeline_everyEventOnce(t *testing.T) {
	tank := monthly(30)
	for _, width := range []int{40, 60, 80, 100} {
		text := timeline(t, tank, Options{Width: width})
		if n := strings.Count(text, "2025-08-01 siphon"); n != 2 {
			t.Errorf("at %d columns the siphoning stands %d times, want at both stations once", width, n)
		}
	}
}

func overview(t interface{ Fatal(...any) }, o Options) string {
	today, err := layers.ParseDate("2025-12-01")
	if err != nil {
		t.Fatal(err)
	}
	other := monthly(2)
	other.ID, other.Name = "tall-jar", ""
	findings := judge.Interpret(slices.Values([]layers.Tank{monthly(8), other, {ID: "new", Name: "Not yet read"}}), few)
	var b strings.Builder
	if err := WriteOverview(&b, judge.NewOverview(findings, today), o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestWriteOverview_golden(t *testing.T) {
	golden(t, "overview_100.txt", overview(t, Options{Width: 100}))
	golden(t, "overview_80_in.txt", overview(t, Options{Width: 80, Units: layers.Inches}))
	golden(t, "overview_60_ascii.txt", overview(t, Options{Width: 60, ASCII: true}))
	var b strings.Builder
	if err := WriteOverview(&b, reports.Overview{}, Options{Width: 80}); err != nil || b.String() != "no tanks to show\n" {
		t.Errorf("no tanks: %q, %v", b.String(), err)
	}
}

func TestRecords_noLineTooWide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := Options{
			Width: rapid.IntRange(40, 120).Draw(t, "width"), ASCII: rapid.Bool().Draw(t, "ascii"),
			Units: rapid.SampledFrom([]layers.Units{layers.MM, layers.Inches}).Draw(t, "units"),
		}
		text := timeline(t, monthly(rapid.IntRange(1, 30).Draw(t, "months")), o) + overview(t, o)
		for line := range strings.Lines(text) {
			if width := ansi.StringWidth(strings.TrimSuffix(line, "\n")); width > min(o.Width, maxWidth) {
				t.Fatalf("%d columns, want at most %d: %q", width, o.Width, line)
			}
		}
	})
}

func TestWriteMarkdown_golden(t *testing.T) {
	tank := running()
	tank.Name = "Tall | *jar* <b>"
	var b strings.Builder
	if err := WriteMarkdown(&b, reports.Findings{Tanks: []reports.Tank{healthy(), tank, swelling(), unread()}}, layers.MM); err != nil {
		t.Fatal(err)
	}
	golden(t, "tanks.md", b.String())
}

// watered is monthly with what the physics needs.
func watered(months int) layers.Tank {
	tank := monthly(months)
	ph, celsius, ammonia, oxygen := 7.2, 24.0, 0.1, 5.5
	tank.Vessel = &layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 300, WaterDepthMM: 280}
	tank.Water = []layers.WaterTest{{
		Date: tank.Cores[len(tank.Cores)-1].Date, Time: "07:30", PH: &ph, TemperatureC: &celsius, TotalAmmonia: &ammonia, OxygenMGPerL: &oxygen,
	}}
	return tank
}

func physics(t interface{ Fatal(...any) }, o Options) (rehearsal, profile string) {
	r, err := judge.Rehearse(watered(5), few, reports.MethodSiphon, 0.25, 30)
	if err != nil {
		t.Fatal(err)
	}
	x, err := judge.Oxygen(watered(5), few, reports.Lights{On: 8, Hours: 10, PlantOxygen: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	var first, second strings.Builder
	if err := WriteRehearsal(&first, r, o); err != nil {
		t.Fatal(err)
	}
	if err := WriteOxygen(&second, x, o); err != nil {
		t.Fatal(err)
	}
	return first.String(), second.String()
}

func TestPhysics_golden(t *testing.T) {
	for name, o := range map[string]Options{"80": {Width: 80}, "60_ascii_in": {Width: 60, ASCII: true, Units: layers.Inches}} {
		rehearsal, profile := physics(t, o)
		golden(t, "rehearsal_"+name+".txt", rehearsal)
		golden(t, "oxygen_"+name+".txt", profile)
	}
}

func TestPhysics_noLineTooWide(t *testing.T) {
	for width := 40; width <= 110; width += 10 {
		rehearsal, profile := physics(t, Options{Width: width, ASCII: width%20 == 0})
		for line := range strings.Lines(rehearsal + profile) {
			if got := ansi.StringWidth(strings.TrimSuffix(line, "\n")); got > min(width, maxWidth) {
				t.Errorf("%d columns, want at most %d: %q", got, width, line)
			}
		}
	}
}
