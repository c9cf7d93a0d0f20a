package judge

import (
	"slices"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

func TestNewTimeline(t *testing.T) {
	tank := testbeds.TankOf(6, func(m int) []layers.Layer {
		return []layers.Layer{testbeds.Of(float64(10+2*m), palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native)}
	})
	for m := range 4 {
		core := tank.Cores[m]
		core.Station = "back"
		core.Layers = []layers.Layer{testbeds.Of(float64(10+3*m), palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native)}
		tank.Cores = append(tank.Cores, core)
	}
	tank.Events = []layers.Event{
		{Date: testbeds.Day("2026-12-01"), Kind: layers.EventNote, Note: "later"},
		{Date: testbeds.Day("2026-06-15"), Kind: layers.EventWaterChange, Share: new(0.2)},
	}
	then := testbeds.Few()
	then.AsOf = testbeds.Day("2026-11-28") // the day of the newest core
	line := NewTimeline(tank, then)
	if len(line.Stations) != 2 || line.Stations[0].Station != "back" || len(line.Stations[0].Cores) != 4 || len(line.Stations[1].Cores) != 6 {
		t.Fatalf("stations %+v", line.Stations)
	}
	for _, s := range line.Stations {
		if !slices.IsSortedFunc(s.Cores, func(a, b reports.Core) int { return int(a.Date - b.Date) }) {
			t.Errorf("the cores of %s are not in the order of dates", s.Station)
		}
	}
	back, front := line.Stations[0].Accumulation, line.Stations[1].Accumulation
	testbeds.Near(t, "back", back.Value, 3*layers.DaysPerMonth/30, 0.4)
	testbeds.Near(t, "front", front.Value, 2*layers.DaysPerMonth/30, 0.2)
	if len(line.Events) != 1 || line.Events[0].Kind != layers.EventWaterChange {
		t.Errorf("events %+v, want those up to the newest core", line.Events)
	}
	found := Interpret(slices.Values([]layers.Tank{tank}), then).Tanks[0]
	if *line.Accumulation != *found.Accumulation {
		t.Errorf("the tank grows by %+v here and %+v in its findings", *line.Accumulation, *found.Accumulation)
	}
	if newest := line.Stations[1].Cores[5]; newest.Mulm.Value != found.Cores[0].Mulm.Value {
		t.Errorf("the newest core has %v mm of mulm here and %v in the findings", newest.Mulm.Value, found.Cores[0].Mulm.Value)
	}
}

func TestNewTimeline_unread(t *testing.T) {
	line := NewTimeline(layers.Tank{ID: "new"}, testbeds.Few())
	if line.Stations == nil || len(line.Stations) != 0 || len(line.Notices) == 0 {
		t.Errorf("a tank without a core: %+v", line)
	}
}
