package rules

import (
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/internal/testbeds"
)

// TestVerdict_heard: a rule is told from one draw in twenty on.
func TestVerdict_heard(t *testing.T) {
	for draws, want := range map[int]bool{0: false, 99: false, 100: true, 2000: true} {
		v := newVerdict()
		v.draws = 2000
		v.held[0] = draws
		if got := v.heard(0); got != want {
			t.Errorf("a rule of %d draws in 2,000 is told: %t", draws, got)
		}
	}
}

// TestUnsureLayer_hangs: an advice hangs on a name where the other name ends elsewhere, and that
// clearly; the mulm where it is another by more than a slip's.
func TestUnsureLayer_hangs(t *testing.T) {
	under := func(leave, siphon int, mulm float64) underName {
		return underName{ended: [3]int{leave, 0, siphon}, mulm: mulm * float64(leave+siphon)}
	}
	for _, c := range []struct {
		name          string
		first, second underName
		want          int
	}{
		{"alike", under(60, 40, 20), under(60, 40, 20), 0},
		{"just over the half to just under it", under(52, 48, 20), under(48, 52, 20), 0},
		{"less often by 29 in 100", under(65, 35, 20), under(36, 64, 20), 0},
		{"less often by 30 in 100", under(65, 35, 20), under(35, 65, 20), 2},
		{"less often, but the same advice", under(95, 5, 20), under(60, 40, 20), 0},
		{"mulm 10 mm apart", under(100, 0, 20), under(100, 0, 30), 0},
		{"mulm 10.1 mm apart", under(100, 0, 20), under(100, 0, 30.1), 1},
		{"mulm less by 10.1 mm", under(100, 0, 30.1), under(100, 0, 20), 1},
	} {
		l := unsureLayer{}
		l.under[palette.MulmLight], l.under[palette.Native] = c.first, c.second
		if got, words := l.depends(palette.MulmLight, palette.Native, layers.MM); got != c.want || (words == "") != (got == 0) {
			t.Errorf("%s: weight %d, %q; want %d", c.name, got, words, c.want)
		}
	}
}

// TestVerdict_freesTooMuch: a draw in which a hand would free too much from the least share of the floor
// that is worth it, a twentieth, ends in leaving.
func TestVerdict_freesTooMuch(t *testing.T) {
	o := infer.NewOutlook(testbeds.BareBed(9), testbeds.Few())
	for _, c := range []struct {
		name string
		draw infer.Truth
		want reports.Action
	}{
		{"stirring as much as that", infer.Truth{ReducedTop: 4, Black: 9, StirShare: 0.05, SiphonShare: 1}, reports.Stir},
		{"stirring less than that", infer.Truth{ReducedTop: 4, Black: 9, StirShare: 0.0499, SiphonShare: 1}, reports.Leave},
		{"siphoning as much as that", infer.Truth{Mulm: 60, ReducedTop: 64, StirShare: 1, SiphonShare: 0.05}, reports.Siphon},
		{"siphoning less than that", infer.Truth{Mulm: 60, ReducedTop: 64, StirShare: 1, SiphonShare: 0.0499}, reports.Leave},
	} {
		c.draw.Facts, c.draw.Reached, c.draw.Floor, c.draw.Slack, c.draw.BottomKnown, c.draw.Bottom = o.Facts, true, 53, 1, true, 8
		v := newVerdict()
		if got := v.hear(&c.draw); got != c.want {
			t.Errorf("%s: %s", c.name, got)
		}
	}
}

// TestRules_readable: every rule has a name of its own, a mark and a test.
func TestRules_readable(t *testing.T) {
	seen := map[string]bool{}
	for i, r := range rules {
		if r.name == "" || seen[r.name] || r.mark == "" || r.text == nil || (r.test == nil) != (i == fallback) {
			t.Errorf("rule %d %q is not whole, or stands twice", i, r.name)
		}
		seen[r.name] = true
	}
}
