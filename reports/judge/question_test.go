package judge

import (
	"slices"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// A core that no bed becomes in a month is told from one that it does, and from one after
// a hand in the bed, by the slip that is likeliest.
func TestAsk_tellsSlips(t *testing.T) {
	bed := func(station, date string, mulm, black, sand float64) layers.Core {
		return layers.Core{Station: station, Date: testbeds.Day(date), Layers: []layers.Layer{
			{ThicknessMM: mulm, Color: testbeds.BandColor[palette.MulmLight]}, {ThicknessMM: black, Color: testbeds.BandColor[palette.Black]}, {ThicknessMM: sand, Color: testbeds.BandColor[palette.Native]},
		}}
	}
	typed := func(change func(list []layers.Layer) []layers.Layer) layers.Core {
		core := bed("front", "2026-11-01", 42, 20, 80)
		core.Layers = change(slices.Clone(core.Layers))
		return core
	}
	siphoned := []layers.Event{{Date: testbeds.Day("2026-10-15"), Kind: layers.EventSiphon}}
	for _, c := range []struct {
		name   string
		core   layers.Core
		events []layers.Event
		want   reports.Slip // empty: nothing is asked
	}{
		{name: "as before", core: bed("front", "2026-11-01", 41, 20, 79)},
		{name: "grown", core: bed("front", "2026-11-01", 52, 20, 80)},
		{name: "seen less far down", core: bed("front", "2026-11-01", 41, 20, 20)},
		{name: "mulm gone", core: bed("front", "2026-11-01", 12, 20, 80), want: reports.SlipRemoval},
		{name: "mulm gone with the siphon", core: bed("front", "2026-11-01", 12, 20, 80), events: siphoned},
		{name: "another ruler", core: bed("front", "2026-11-01", 21, 10, 40), want: reports.SlipElsewhere},
		{name: "another station", core: bed("left", "2026-11-01", 25, 15, 60)},
		{name: "turned over", core: typed(layers.TurnedOver), want: reports.SlipTurnedOver},
		{name: "turned over in a siphoned tank's first core at another station", core: layers.Core{Station: "left", Date: testbeds.Day("2026-11-01"), Layers: layers.TurnedOver(bed("", "2026-11-01", 42, 20, 80).Layers)}, events: siphoned, want: reports.SlipTurnedOver},
		{name: "mm as cm", core: typed(func(l []layers.Layer) []layers.Layer { return layers.Scaled(l, 10) }), want: reports.SlipTenfold},
		{name: "cm as mm", core: typed(func(l []layers.Layer) []layers.Layer { return layers.Scaled(l, 0.1) }), want: reports.SlipTenth},
		{name: "one layer ten times", core: typed(func(l []layers.Layer) []layers.Layer { l[0].ThicknessMM *= 10; return l }), want: reports.SlipTenfold},
		{name: "depths", core: typed(func(l []layers.Layer) []layers.Layer {
			for i := range l[1:] {
				l[i+1].ThicknessMM += l[i].ThicknessMM
			}
			return l
		}), want: reports.SlipDepths},
		{name: "substrate on top", core: typed(func(l []layers.Layer) []layers.Layer {
			return append([]layers.Layer{{ThicknessMM: 50, Color: testbeds.BandColor[palette.Native]}}, l...)
		}), want: reports.SlipTopUp},
	} {
		t.Run(c.name, func(t *testing.T) {
			tank := layers.Tank{ID: "jar", SetUp: testbeds.Day("2024-06-01"), Events: c.events, Cores: []layers.Core{bed("front", "2026-09-01", 38, 20, 80), bed("front", "2026-10-01", 40, 20, 80)}}
			asked := Ask(tank, c.core, nil, testbeds.Few())
			switch {
			case c.want == "" && len(asked) > 0:
				t.Fatalf("asked %q, want nothing", asked[0].Text)
			case c.want == "":
				return
			case len(asked) != 1 || asked[0].Mends[0].Slip != c.want:
				t.Fatalf("asked %+v, want %s", asked, c.want)
			}
			if last := asked[0].Mends[len(asked[0].Mends)-1]; last.Slip != reports.SlipNone {
				t.Errorf("the last answer is %+v, want that it is right", last)
			}
			sure := c.core
			sure.Sure = true
			if asked := Ask(tank, sure, nil, testbeds.Few()); len(asked) > 0 {
				t.Errorf("asked %q of a core that its keeper is sure of", asked[0].Text)
			}
		})
	}
}
