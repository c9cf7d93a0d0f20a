package words_test

import (
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/words"
)

func TestLacking_whatIsNeeded(t *testing.T) {
	celsius, deep := 24.0, layers.Limits{layers.LimitStirDepth: 30}
	tank := layers.Tank{
		ID: "hall", Flow: layers.Still,
		Vessel: &layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 300, WaterDepthMM: 300},
		Water:  []layers.WaterTest{{Date: day(t, "2026-04-01"), TemperatureC: &celsius}},
		Cores: []layers.Core{{Date: day(t, "2026-05-01"), Station: "front", Layers: []layers.Layer{
			{ThicknessMM: 4, Color: palette.Color{R: 0x80, G: 0x60, B: 0x40}}, {ThicknessMM: 20, Color: palette.Color{R: 0xd5, G: 0xc8, B: 0xa5}},
		}}},
	}
	record := func(change func(*layers.Tank)) reports.Record {
		changed := tank
		change(&changed)
		return judge.NewRecord(changed, reports.Settings{Draws: 20, Seed: 1})
	}
	shallow := []layers.Layer{{ThicknessMM: 8, Color: palette.Color{R: 0x80, G: 0x60, B: 0x40}}}
	bare := record(func(t *layers.Tank) { t.Vessel, t.Water = nil, nil })
	for _, test := range []struct {
		record reports.Record
		want   string
	}{
		{record(func(*layers.Tank) {}), ""},
		{record(func(t *layers.Tank) { t.Cores = nil }), "no core has been read"},
		{record(func(t *layers.Tank) { t.Vessel = nil }), "the vessel's measurements"},
		{record(func(t *layers.Tank) { t.Water = nil }), "a water temperature"},
		{bare, "the vessel's measurements and a water temperature from the last 90 days"},
		{record(func(t *layers.Tank) { t.Limits = deep }), "One is not worked out"},
		{record(func(t *layers.Tank) { t.Limits, t.Cores = deep, []layers.Core{{Date: 20574, Layers: shallow}} }), "it would reach deeper than the bed was read"},
	} {
		if got := words.Lacking(test.record); !strings.Contains(got, test.want) || (got == "") != (test.want == "") {
			t.Errorf("lacks %q: found %q, want %q", test.record.Lacking, got, test.want)
		}
	}
	// The needs are named as in the notices that the sentence leads to.
	if needs := "add the vessel's measurements and a water temperature from the last 90 days"; !slices.ContainsFunc(bare.Tank.Notices, func(n string) bool { return strings.Contains(n, needs) }) {
		t.Errorf("no notice says %q: %q", needs, bare.Tank.Notices)
	}
}
