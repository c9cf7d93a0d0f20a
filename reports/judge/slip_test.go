package judge

import (
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// TestSlips_plainToSee: what a careful expert sees at a glance is asked after, and a bed that only
// lives, or is seen less or further down than before, is not.
func TestSlips_plainToSee(t *testing.T) {
	asks := func(former, newest []layers.Layer, changes ...func(*layers.Tank)) reports.Slip {
		tank := testbeds.Told(twice(former, newest), changes...)
		if questions := interpret(tank).Questions; len(questions) > 0 && questions[0].Mends[0].Slip != reports.SlipName {
			return questions[0].Mends[0].Slip
		}
		return ""
	}
	bare := testbeds.BareBed(9).Cores[0].Layers
	colored := testbeds.Unnamed(testbeds.SandColumn(25)...)
	siphoned := tellEvents(siphonedOn(testbeds.Day("2026-06-15"), 0.25, 20))
	gravel := []layers.Layer{seen(13, "#5e4d37"), seen(14, "#ac957c"), seen(15, "#3c3933"), seen(27, "#aba083")}
	soil := []layers.Layer{seen(28, "#4e4134"), seen(5, "#b98a5b"), seen(47, "#483e31")}
	for _, c := range []struct {
		name string
		got  reports.Slip
		want reports.Slip
	}{
		{"bare sand typed as cm", asks(bare, layers.Scaled(bare, 10)), reports.SlipTenfold},
		{"bare sand typed a tenth", asks(bare, layers.Scaled(bare, 0.1)), reports.SlipTenth},
		{"turned over, after a siphoning", asks(colored, layers.TurnedOver(colored), siphoned), reports.SlipTurnedOver},
		{"28 mm of mulm over soil, then 280", asks(soil, []layers.Layer{seen(280, "#4e462a"), seen(4, "#c18d59"), seen(33, "#3f392d")}), reports.SlipTenfold},
		{"the same bed seen half as far down", asks(gravel, []layers.Layer{seen(13, "#5d4539"), seen(13, "#a99580"), seen(13, "#383635"), seen(3, "#ab967d")}), ""},
		{"the same bed seen further down, five mm of mulm grown", asks(
			[]layers.Layer{seen(22, "#906c4e"), seen(3, "#bc8f57"), seen(12, "#5e6056"), seen(11, "#c4c7ac")},
			[]layers.Layer{seen(27, "#96714d"), seen(3, "#b88858"), seen(12, "#646058"), seen(21, "#c8c6b8")}), ""},
		{"ten times the depth, seen twice as far down", asks(
			[]layers.Layer{seen(15, "#906f52"), seen(6, "#a77415"), seen(6, "#827b70"), seen(41, "#ccc4ac")},
			[]layers.Layer{seen(180, "#956f4a"), seen(40, "#a0731b"), seen(60, "#7d7e6c"), seen(980, "#c9bdb7")}), reports.SlipTenfold},
		{"a bed under 50 mm of substrate", asks(testbeds.SandColumn(12), append([]layers.Layer{testbeds.Of(50, palette.Native)}, testbeds.SandColumn(12)...)), reports.SlipTopUp},
	} {
		if c.got != c.want {
			t.Errorf("%s: asked after %q, want %q", c.name, c.got, c.want)
		}
	}
}
