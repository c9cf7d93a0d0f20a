package rules

import (
	"math"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/internal/testbeds"
)

// heard is a tank whose draws were heard, by others too.
func heard(tank layers.Tank, s reports.Settings, others ...func(*infer.Truth)) *Case {
	o := infer.NewOutlook(tank, s)
	drawers := o.Drawers(s.Seed)
	c := NewCase(o, drawers)
	var sim infer.Simulation
	sim.Run(o, drawers, s, func(t *infer.Truth) {
		c.Hear(t)
		for _, other := range others {
			other(t)
		}
	})
	found := reports.Tank{}
	sim.Fill(o, &found)
	c.Fill(&found)
	return c
}

// ruleAt is the place of a rule in the table.
func ruleAt(name string) int {
	return slices.IndexFunc(rules[:], func(r rule) bool { return r.name == name })
}

// TestAdvice_noPeaceBesideTrouble: each rule by itself, in all draws, beside the one that says
// that nothing presses.
func TestAdvice_noPeaceBesideTrouble(t *testing.T) {
	rising := testbeds.TankOf(8, func(m int) []layers.Layer {
		return []layers.Layer{testbeds.Of(10, palette.MulmLight), testbeds.Of(float64(60-3*m), palette.Rust), testbeds.Of(10, palette.Black), testbeds.Of(40, palette.Native)}
	})
	o := heard(testbeds.Wet(rising, layers.Pumped, nil), testbeds.Few())
	o.Worked, o.Tests.Ammonia, o.Tests.Dawn = &layers.Event{Kind: layers.EventStir, Date: testbeds.LastRead}, &infer.AmmoniaTest{Date: testbeds.LastRead}, &infer.OxygenTest{Date: testbeds.LastRead} // what the sentences speak of
	for i := range rules[:fallback] {
		o.verdict = newVerdict()
		v := &o.verdict
		v.draws, v.actions = 100, [3]int{100, 0, 0}
		v.held[i], v.held[fallback] = 100, 100
		peace := slices.ContainsFunc(o.advice(nil).Because, func(r reports.Reason) bool { return strings.Contains(strings.ToLower(r.Text), "no limit is reached") })
		if name := rules[i].name; peace != slices.Contains(testbeds.Harmless(), name) {
			t.Errorf("beside %s no limit is reached: %t", name, peace)
		}
	}
}

// A rule that holds in half of the draws forbids the hand, and asks for its first steps and its wait.
func TestAdvice_halfOfTheDraws(t *testing.T) {
	o := heard(testbeds.SandBed(12), testbeds.Few())
	smell := ruleAt("egg-smell")
	for draws, want := range map[int]bool{999: false, 1000: true} {
		o.verdict = newVerdict()
		o.verdict.draws, o.verdict.actions = 2000, [3]int{2000, 0, 0}
		o.verdict.held[smell] = draws
		if got := len(o.Vetoes(reports.MethodStir).Why) > 0; got != want {
			t.Errorf("a smell in %d draws of 2,000 forbids to stir: %t", draws, got)
		}
		if a := o.advice(nil); (a.WaitDays == 7) != want || slices.Contains(a.First, Aerate) != want {
			t.Errorf("a smell in %d draws of 2,000: %d days to wait, first %q", draws, a.WaitDays, a.First)
		}
	}
}

// An unclear or divided reading is read again in a fortnight, a fairly clear one in a month.
func TestAdvice_waitOfTheUnclear(t *testing.T) {
	o := heard(testbeds.Told(testbeds.SandBed(12), testbeds.TellSide), testbeds.Few())
	for leave, want := range map[int]int{1000: 30, 800: 30, 799: 14, 599: 14} {
		o.verdict = newVerdict()
		o.verdict.draws, o.verdict.actions = 1000, [3]int{leave, 0, 1000 - leave}
		if a := o.advice(nil); a.Action != reports.Leave || a.WaitDays != want {
			t.Errorf("%d of 1,000 draws for leaving: %s, %d days; want %d", leave, a.Clarity, a.WaitDays, want)
		}
	}
}

// What a hand would free forbids it in just those draws in which less of the floor than leastShare
// is within the limits. Of tanks of one bed the least water comes to that.
func TestAdvice_freesTooMuch(t *testing.T) {
	for _, c := range []struct {
		rule    string
		ammonia float64 // own limit, un-ionised, mg N/L: one at which both sides are tried
		share   func(*infer.Truth) float64
	}{
		{"stirring-frees-too-much", 0.0206, func(t *infer.Truth) float64 { return t.StirShare }},
		{"siphoning-frees-too-much", 0.0015, func(t *infer.Truth) float64 { return t.SiphonShare }},
	} {
		tried := map[bool]int{}
		for _, depth := range []float64{30, 60, 100, 200, 300, 400, 600} {
			tank := testbeds.Told(testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, nil), testbeds.TellLimit(layers.LimitStirDepth, 40), testbeds.TellLimit(layers.LimitAmmonia, c.ammonia))
			tank.Vessel.WaterDepthMM = depth
			var less float64
			count := func(draw *infer.Truth) {
				if c.share(draw) < infer.LeastShare {
					less += 1. / reports.DefaultDraws
				}
			}
			told := heard(tank, reports.DefaultSettings(), count)
			tried[less > 0.5]++
			if got := told.verdict.share(told.verdict.held[ruleAt(c.rule)]); math.Abs(got-less) > 0.001 && max(got, less) >= worthSaying {
				t.Errorf("%s, %g mm of water: told of %g of the draws, want %g", c.rule, depth, got, less)
			}
		}
		t.Logf("%s: %d of 7 tanks in most of the draws", c.rule, tried[true])
		if tried[true] == 0 || tried[false] == 0 {
			t.Errorf("%s: %v: one of them is not tried", c.rule, tried)
		}
	}
}

// TestOutlook_clarity: the shares from which on a reading is clear, fairly clear and unclear, of
// a tank whose record bears all of them.
func TestOutlook_clarity(t *testing.T) {
	o := heard(testbeds.Told(testbeds.SandBed(12), testbeds.TellSide), testbeds.Few())
	alone := heard(testbeds.SandBed(12), testbeds.Few())
	for share, want := range map[float64]reports.Clarity{
		1: reports.Clear, 0.95: reports.Clear, 0.9499: reports.FairlyClear, 0.8: reports.FairlyClear, 0.7999: reports.Unclear, 0.6: reports.Unclear, 0.5999: reports.Divided, 0.34: reports.Divided,
	} {
		if got, limited := o.clarity(share); got != want || len(limited) > 0 {
			t.Errorf("a share of %g is %s, limited by %q; want %s", share, got, limited, want)
		}
		if got, limited := alone.clarity(share); got == reports.Clear || share < 0.95 && got != want || len(limited) != 1 {
			t.Errorf("at one station a share of %g is %s, limited by %q", share, got, limited)
		}
	}
}

// TestNameQuestion_worthDoubting: a second name is asked after from one draw in ten on.
func TestNameQuestion_worthDoubting(t *testing.T) {
	o := heard(testbeds.Told(testbeds.SandBed(12), func(t *layers.Tank) {
		t.Cores[len(t.Cores)-1].Layers = testbeds.Unnamed(testbeds.SandColumn(12)...)
	}), testbeds.Few())
	for second, want := range map[int]bool{99: false, 100: true} {
		l := unsureLayer{drawer: o.Drawers(1)[0]}
		l.under[palette.MulmLight].ended = [3]int{1000 - second, 0, 0}
		l.under[palette.Native].ended = [3]int{0, 0, second}
		o.unsure = unsure{l}
		if _, asked := o.nameQuestion(); asked != want {
			t.Errorf("a name of %d draws in 1,000 is asked after: %t", second, asked)
		}
	}
}
