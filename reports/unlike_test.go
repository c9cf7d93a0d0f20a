package reports

import (
	"testing"

	"panecore/layers"
	"panecore/palette"
)

// A core that no bed becomes in a month is told from one that it does, and from one after
// a hand in the bed.
func TestUnlike_tellsMistakes(t *testing.T) {
	mulmOver := func(station, date string, mulm, sand float64) layers.Core {
		return layers.Core{Station: station, Date: day(date), Layers: []layers.Layer{
			{ThicknessMM: mulm, Color: palette.Color{R: 0x8b, G: 0x69, B: 0x45}, Band: palette.MulmLight},
			{ThicknessMM: sand, Color: palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}, Band: palette.Native},
		}}
	}
	siphoned := []layers.Event{{Date: day("2026-10-15"), Kind: layers.EventSiphon}}
	for _, c := range []struct {
		name       string
		mulm, sand float64
		station    string
		events     []layers.Event
		want       bool
	}{
		{"as before", 41, 79, "front", nil, false},
		{"grown", 52, 80, "front", nil, false},
		{"mulm gone", 18, 80, "front", nil, true},
		{"mulm gone with the siphon", 18, 80, "front", siphoned, false},
		{"another ruler", 20, 40, "front", nil, true},
		{"another station", 20, 40, "left", nil, false},
	} {
		s := Settings{Draws: 200, Seed: DefaultSeed}
		tank := layers.Tank{ID: "test", Events: c.events, Cores: []layers.Core{mulmOver("front", "2026-09-01", 20, 40), mulmOver("front", "2026-10-01", 40, 80)}}
		now := ReadCore(tank, mulmOver(c.station, "2026-11-01", c.mulm, c.sand), nil, s)
		former, got := Unlike(tank, nil, now, s)
		if got != c.want || got && former.Date != day("2026-10-01") {
			t.Errorf("%s: unlike %v to %s, want %v", c.name, got, former.Date, c.want)
		}
	}
}
