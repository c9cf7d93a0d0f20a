package infer

import (
	"math"
	"math/rand/v2"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// TestOutlook_turnedAlone: a station's first core is held to be turned over from odds of a thousand
// to one on, by the colours of the palette alone.
func TestOutlook_turnedAlone(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1000))
	least, most := math.Inf(1), math.Inf(-1)
	for range 600 {
		core := layers.Core{Date: testbeds.LastRead, Station: "front"}
		for _, band := range []palette.Band{palette.Native, palette.Black, palette.Rust, palette.MulmDark, palette.MulmLight} {
			if rng.IntN(4) > 0 {
				layer := testbeds.Typed(rng, 5+30*rng.Float64(), band, testbeds.BandColor[palette.Native])
				core.Layers = append(core.Layers, layer)
			}
		}
		if len(core.Layers) == 0 {
			continue
		}
		o := NewOutlook(layers.Tank{ID: "t", SetUp: testbeds.LastRead - 900, Cores: []layers.Core{core}}, testbeds.Few())
		turned := core
		turned.Layers = layers.TurnedOver(core.Layers)
		matcher := o.Readings[0].matcher
		odds := matcher.Match(columnOf(turned)).Evidence() - matcher.Match(columnOf(core)).Evidence()
		if o.Readings[0].Slip == reports.SlipTurnedOver {
			least = min(least, odds)
		} else {
			most = max(most, odds)
		}
	}
	t.Logf("turned over from odds of %.2f on, not up to %.2f", least, most)
	if thousand := math.Log(1000); most > thousand+0.05 || least < thousand-0.05 || least-most > 1 {
		t.Errorf("turned over from odds of e^%.2f on, not up to e^%.2f; want a thousand between them", least, most)
	}
}
