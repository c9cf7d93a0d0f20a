package reports

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
)

// The tests of this file hold what a careful expert would say and the program does not say yet.

// TestWanted_troubleOfTwoStations: trouble that two stations note at one time is told of both, in
// whatever order the document lists them.
func TestWanted_troubleOfTwoStations(t *testing.T) {
	tank := told(sandBed(12), tellSide, tellEvents(eventOn(lastRead+40, layers.EventNote)), func(t *layers.Tank) {
		for i := range t.Cores {
			if t.Cores[i].Date == lastRead {
				t.Cores[i].Signs = []layers.Sign{layers.EggSmell}
				if t.Cores[i].Station == "side" {
					t.Cores[i].Signs = []layers.Sign{layers.Gasping}
				}
			}
		}
	})
	turned := told(tank, func(t *layers.Tank) { slices.Reverse(t.Cores) })
	for name, tank := range map[string]layers.Tank{"as listed": tank, "the other way": turned} {
		found := interpret(tank)
		for _, trouble := range []string{"egg smell", "gasping"} {
			if !says(trouble)(found) {
				t.Errorf("%s: not a word of %s", name, trouble)
			}
		}
	}
}

// TestWanted_orderOfCores: a document may list the cores in any order, whatever signs they note.
func TestWanted_orderOfCores(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawLife(t)
		shuffled := tank
		shuffled.Cores = rapid.Permutation(tank.Cores).Draw(t, "cores")
		if want, got := encoded(t, interpretFew(tank)), encoded(t, interpretFew(shuffled)); got != want {
			t.Fatalf("findings differ:\n%s\n%s", want, got)
		}
	})
}

// TestWanted_slips are slips that are plain to see and not asked after, or not so, and beds that are
// asked after and show none.
func TestWanted_slips(t *testing.T) {
	asks := func(former, newest []layers.Layer, changes ...func(*layers.Tank)) Slip {
		tank := told(tankOf(2, func(m int) []layers.Layer {
			return [][]layers.Layer{former, newest}[m]
		}), changes...)
		if questions := interpret(tank).Questions; len(questions) > 0 && questions[0].Mends[0].Slip != SlipName {
			return questions[0].Mends[0].Slip
		}
		return ""
	}
	bare := bareBed(9).Cores[0].Layers
	colored := unnamed(sandColumn(25)...)
	siphoned := tellEvents(siphonedOn(day("2026-06-15"), 0.25, 20))
	gravel := []layers.Layer{seen(13, "#5e4d37"), seen(14, "#ac957c"), seen(15, "#3c3933"), seen(27, "#aba083")}
	soil := []layers.Layer{seen(28, "#4e4134"), seen(5, "#b98a5b"), seen(47, "#483e31")}
	for _, c := range []struct {
		name string
		got  Slip
		want Slip
	}{
		{"bare sand typed as cm", asks(bare, layers.Scaled(bare, 10)), SlipTenfold},
		{"bare sand typed a tenth", asks(bare, layers.Scaled(bare, 0.1)), SlipTenth},
		{"turned over, after a siphoning", asks(colored, layers.TurnedOver(colored), siphoned), SlipTurnedOver},
		{"28 mm of mulm over soil, then 280", asks(soil, []layers.Layer{seen(280, "#4e462a"), seen(4, "#c18d59"), seen(33, "#3f392d")}), SlipTenfold},
		{"the same bed seen half as far down", asks(gravel, []layers.Layer{seen(13, "#5d4539"), seen(13, "#a99580"), seen(13, "#383635"), seen(3, "#ab967d")}), ""},
		{"the same bed seen further down, five mm of mulm grown", asks(
			[]layers.Layer{seen(22, "#906c4e"), seen(3, "#bc8f57"), seen(12, "#5e6056"), seen(11, "#c4c7ac")},
			[]layers.Layer{seen(27, "#96714d"), seen(3, "#b88858"), seen(12, "#646058"), seen(21, "#c8c6b8")}), ""},
		{"ten times the depth, seen twice as far down", asks(
			[]layers.Layer{seen(15, "#906f52"), seen(6, "#a77415"), seen(6, "#827b70"), seen(41, "#ccc4ac")},
			[]layers.Layer{seen(180, "#956f4a"), seen(40, "#a0731b"), seen(60, "#7d7e6c"), seen(980, "#c9bdb7")}), SlipTenfold},
		{"a bed under 50 mm of substrate", asks(sandColumn(12), append([]layers.Layer{of(50, palette.Native)}, sandColumn(12)...)), SlipTopUp},
	} {
		if c.got != c.want {
			t.Errorf("%s: asked after %q, want %q", c.name, c.got, c.want)
		}
	}
}
