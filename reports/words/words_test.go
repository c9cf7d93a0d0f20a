package words_test

import (
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/words"
)

func day(t *testing.T, text string) layers.Date {
	t.Helper()
	d, err := layers.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestMeasure_estimates(t *testing.T) {
	mm, in := words.Length(layers.MM), words.Length(layers.Inches)
	mmRate, inRate := words.Rate(layers.MM), words.Rate(layers.Inches)
	for _, test := range []struct {
		estimate reports.Estimate
		measure  words.Measure
		want     string
	}{
		{reports.Estimate{Value: 16, Low: 14.6, High: 18.2}, mm, "16 mm (15 to 18)"},
		{reports.Estimate{Value: 1.94, Low: 1.2, High: 2.6}, mmRate, "1.9 mm/month (1.2 to 2.6)"},
		{reports.Estimate{Value: -0.02, Low: -0.6, High: 0.01}, mmRate, "0.0 mm/month (−0.6 to 0.0)"},
		{reports.Estimate{Value: 1.52, Low: 1.487, High: 1.55}, mmRate, "1.52 mm/month (1.49 to 1.55)"},
		{reports.Estimate{Value: -2.54, Low: -5.08, High: 0}, inRate, "−0.10 in/month (−0.20 to 0.00)"},
		{reports.Estimate{Value: 9.97, Low: 9.2, High: 10.4}, mm, "10 mm (9 to 10)"},
		{reports.Estimate{Value: 25.4, Low: 24, High: 26}, in, "1.00 in (0.94 to 1.02)"},
		{reports.Estimate{Value: 80, Low: 79, High: 81, AtLeast: true}, mm, "at least 80 mm (79 to 81)"},
		{reports.Estimate{Value: 0.00042, Low: 0.0001, High: 0.0009}, words.Ammonia(), "0.0004 mg N/L (0.0001 to 0.0009)"},
		{reports.Estimate{Value: 5, Low: 3.14, High: 6.6}, words.Oxygen(), "5.0 mg/L (3.1 to 6.6)"},
		{reports.Estimate{Value: 5, Low: 3.14, High: 6.6}, words.Other("mg H2S/L"), "5.000 mg H2S/L (3.140 to 6.600)"},
		{reports.Estimate{Value: 5, Low: 3.14, High: 6.6}, words.Rehearsed(reports.Rehearsed{Unit: "mg/L"}), "5.0 mg/L (3.1 to 6.6)"},
		{reports.Estimate{Value: 5, Low: 3.14, High: 6.6}, words.Rehearsed(reports.Rehearsed{Unit: "mg N/L"}), "5.000 mg N/L (3.140 to 6.600)"},
	} {
		if got := test.measure.Estimate(test.estimate); got != test.want {
			t.Errorf("found %q, want %q", got, test.want)
		}
	}
}

func TestMeasure_withoutRange(t *testing.T) {
	mm := words.Length(layers.MM)
	seen := reports.Estimate{Value: -4, Low: -5, High: -3}
	beyond := reports.Estimate{Value: 80, Low: 79, High: 81, AtLeast: true}
	for _, test := range []struct{ got, want string }{
		{mm.Short(seen), "−4.0"}, {mm.Short(beyond), "80+"}, {mm.Value(beyond), "at least 80"},
		{mm.Plain(-4), "−4.0"}, {mm.Plain(50), "50"}, {words.Length(layers.Inches).Plain(50), "1.97"},
		{words.Ammonia().Plain(0.0206), "0.021"}, {words.Ammonia().Plain(-0.00001), "−0.00001"},
	} {
		if test.got != test.want {
			t.Errorf("found %q, want %q", test.got, test.want)
		}
	}
}

func TestNumbers_spelling(t *testing.T) {
	for _, test := range []struct{ got, want string }{
		{words.Number(-0.04, 1), "0.0"}, {words.Number(-0.06, 1), "-0.1"}, {words.Number(2.5, 0), "3"},
		{words.Signed(-0.04, 1), "0.0"}, {words.Signed(-0.06, 1), "−0.1"},
		{words.OnRuler(layers.MM, 12), "12"}, {words.OnRuler(layers.MM, 12.5), "12.5"}, {words.OnRuler(layers.Inches, 25.4), "1.00"},
		{words.Plural(layers.MM), "mm"}, {words.Plural(layers.Inches), "inches"},
		{words.Clock(7.5), "07:30"}, {words.Clock(23.999), "00:00"},
	} {
		if test.got != test.want {
			t.Errorf("found %q, want %q", test.got, test.want)
		}
	}
}

// TestHundred_edges: only nothing is 0, only all is 100.
func TestHundred_edges(t *testing.T) {
	for share, want := range map[float64]int{0: 0, 0.0001: 1, 0.015: 2, 0.5: 50, 0.994: 99, 0.9999: 99, 1: 100} {
		if got := words.Hundred(share); got != want {
			t.Errorf("%v: found %d, want %d", share, got, want)
		}
	}
}

func TestHowClear_withDraws(t *testing.T) {
	for _, c := range []struct {
		clarity reports.Clarity
		limited []string
		share   float64
		want    string
	}{
		{reports.Clear, nil, 1, "The reading is clear: 100 of 100 draws say so."},
		{reports.Clear, nil, 0.999, "The reading is clear: 99 of 100 draws say so."},
		{reports.FairlyClear, []string{"one station only"}, 0.999, "The reading is fairly clear (one station only): 99 of 100 draws say so."},
		{reports.FairlyClear, nil, 0.86, "The reading is fairly clear: 86 of 100 draws say so."},
		{reports.Unclear, []string{"one station only", "the newest core is 130 days old"}, 0.64,
			"The reading is unclear (one station only; the newest core is 130 days old): 64 of 100 draws say so."},
		{reports.Divided, nil, 0.4, "The reading does not settle it: 40 of 100 draws say so."},
	} {
		if got := words.HowClear(reports.Advice{Clarity: c.clarity, LimitedBy: c.limited, Confidence: c.share}); got != c.want {
			t.Errorf("found %q, want %q", got, c.want)
		}
	}
}

// The water's headline stands before whatever the bed says.
func TestHeadline(t *testing.T) {
	if got := words.Headline(reports.Siphon, nil); got != "Siphon the top" {
		t.Errorf("found %q", got)
	}
	if got := words.Headline(reports.Leave, []string{"Animals gasped."}); got != words.WaterFirst {
		t.Errorf("found %q, want %q", got, words.WaterFirst)
	}
}

func TestShares_spelling(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{words.Percent(0.25), "25 %"}, {words.Percent(0.004), "0.4 %"}, {words.Percent(1), "100 %"},
		{words.AtMost(0.2151), "21 %"}, {words.AtMost(0.29), "29 %"}, {words.AtMost(0.004), "under 1 %"}, {words.AtMost(0), "0 %"}, {words.AtMost(1), "100 %"},
	} {
		if c.got != c.want {
			t.Errorf("found %q, want %q", c.got, c.want)
		}
	}
}

func TestAdvice_lines(t *testing.T) {
	advice := reports.Advice{
		Action: reports.Leave, Shares: reports.Shares{Leave: 0.86, Siphon: 0.14},
		Because: []reports.Reason{{Text: "the front holds", Share: 1, Mark: "assumption"}, {Text: "mulm is thin", Share: 0.7, Mark: "common practice"}},
	}
	got := slices.Concat([]string{words.Action(advice.Action)}, words.Reasons(advice.Because), words.OtherActions(advice))
	want := []string{
		"Leave it", "the front holds (assumption)", "mulm is thin (70 of 100 draws; common practice)", "14 of 100 draws say: siphon the top.",
	}
	if !slices.Equal(got, want) {
		t.Errorf("found %q, want %q", got, want)
	}
}

func TestBasis_everyOneHasWords(t *testing.T) {
	for basis, want := range map[reports.Basis]string{
		"": "", reports.RustFront: "lower edge of the rust front", reports.ReducedTop: "top of the first reduced band",
		reports.NotReached: "its lower end is out of view", reports.Trend: "trend of the readings",
		reports.TwoReadings: "difference of 2 readings", reports.SinceSetUp: "one reading, spread over the time since set-up",
		reports.WaterTest: "from a water test", reports.Model: "modelled", reports.Fitted: "fitted to measured oxygen",
	} {
		if got := words.Basis(reports.Estimate{Basis: basis}); got != want {
			t.Errorf("%s: found %q, want %q", basis, got, want)
		}
	}
	if got := words.Basis(reports.Estimate{Basis: reports.Trend, Readings: 5}); got != "trend of 5 readings" {
		t.Errorf("five readings: found %q", got)
	}
}

func TestFront_way(t *testing.T) {
	for _, test := range []struct {
		value, low, high float64
		want             string
	}{
		{-2, -3, -1, "rising toward the surface"},
		{2, 1, 3, "sinking away from the surface"},
		{-0.2, -0.5, 0.1, "rising toward the surface, or standing still"},
		{0, -1, 1, "hardly moving"}, {0.09, -0.1, 0.3, "hardly moving"}, {0.1, -0.1, 0.3, "sinking away from the surface, or standing still"}, {-0.05, -0.08, -0.02, "rising toward the surface"},
	} {
		if got := words.Front(reports.Estimate{Value: test.value, Low: test.low, High: test.high}); got != test.want {
			t.Errorf("%v: found %q, want %q", test.value, got, test.want)
		}
	}
}

func TestForecast_datesKnown(t *testing.T) {
	asOf, early, middle, late := day(t, "2026-11-01"), day(t, "2027-08-01"), day(t, "2028-06-01"), day(t, "2030-01-01")
	for _, test := range []struct {
		forecast reports.Forecast
		units    layers.Units
		want     string
	}{
		{reports.Forecast{LimitMM: 50, Earliest: &early, Expected: &middle, Latest: &late}, layers.MM,
			"The mulm reaches its limit of 50 mm about 2028-06-01 (2027-08-01 to 2030-01-01)."},
		{reports.Forecast{LimitMM: 50, Earliest: &early, Expected: &middle}, layers.MM,
			"The mulm reaches its limit of 50 mm about 2028-06-01 (2027-08-01 at the earliest, or never)."},
		{reports.Forecast{LimitMM: 50, Earliest: &early}, layers.Inches,
			"The mulm may never reach its limit of 1.97 in, and not before 2027-08-01."},
		{reports.Forecast{LimitMM: 50}, layers.MM, "As things go, the mulm may never reach its limit of 50 mm."},
		{reports.Forecast{LimitMM: 50, Earliest: &asOf, Expected: &asOf, Latest: &asOf}, layers.MM, "The mulm has reached its limit of 50 mm."},
		{reports.Forecast{LimitMM: 50, Earliest: &asOf, Expected: &asOf, Latest: &late}, layers.MM, "The mulm has most likely reached its limit of 50 mm."},
		{reports.Forecast{LimitMM: 50, Earliest: &asOf, Expected: &asOf}, layers.MM, "The mulm has most likely reached its limit of 50 mm."},
	} {
		if got := words.Forecast(test.forecast, asOf, test.units); got != test.want {
			t.Errorf("found %q, want %q", got, test.want)
		}
	}
}

func TestCore_names(t *testing.T) {
	read, lit := day(t, "2026-11-01"), false
	for _, test := range []struct{ got, want string }{
		{words.TankName("kettle", "Kettle"), "Kettle (kettle)"}, {words.TankName("kettle", ""), "kettle"}, {words.TankName("kettle", "kettle"), "kettle"},
		{words.Titled("Kettle", read), "Kettle, read 2026-11-01"}, {words.Titled("Kettle", 0), "Kettle"},
		{words.CoreTitle(reports.Core{Station: "left", Date: read, Reliable: true}), "left, read 2026-11-01"}, {words.CoreTitle(reports.Core{Date: read, Reliable: true}), "read 2026-11-01"},
		{words.CoreTitle(reports.Core{Station: "left", Date: read}), "left, read 2026-11-01, not reliable"},
		{words.Band(reports.Layer{Band: palette.Rust, Probability: 0.871}), "rust 87 %"},
		{words.Band(reports.Layer{Band: palette.Rust, Probability: 1, Labelled: true}), "rust"},
		{strings.Join(words.Signs(layers.Core{Lit: &lit, Signs: []layers.Sign{"rotten-egg"}}), ", "), "unlit, rotten egg"},
		{strings.Join(words.Signs(layers.Core{}), ", "), ""},
	} {
		if test.got != test.want {
			t.Errorf("found %q, want %q", test.got, test.want)
		}
	}
}

func TestEvent_whatIsKnown(t *testing.T) {
	share, depth := 0.25, 20.0
	whole := layers.Event{Date: day(t, "2025-09-02"), Kind: layers.EventSiphon, Share: &share, DepthMM: &depth, Note: "the left half"}
	bare := layers.Event{Date: whole.Date, Kind: layers.EventWaterChange}
	for _, test := range []struct{ got, want string }{
		{words.Event(whole, layers.MM), "siphon, 25 %, to 20 mm: the left half"},
		{words.EventDated(whole, layers.Inches), "2025-09-02 siphon, 25 %, to 0.79 in: the left half"},
		{words.Event(bare, layers.MM), "water change"},
	} {
		if test.got != test.want {
			t.Errorf("found %q, want %q", test.got, test.want)
		}
	}
}

func TestRehearsalVerdict_byDraws(t *testing.T) {
	r := reports.Rehearsal{Method: reports.MethodStir, Share: 0.25, DepthMM: 30, Before: 1, Largest: []reports.LargestShare{
		{Method: reports.MethodSiphon, DepthMM: 30, Share: 0.3, Aerated: 0.9}, {Method: reports.MethodStir, DepthMM: 30, Share: 0.05, Aerated: 0.12},
	}}
	for within, want := range map[float64]string{
		0.97: "It can be done: stirring 25 % of the floor down to 30 mm stays within every limit in 97 of 100 draws.",
		0.4:  "Don't: stirring 25 % of the floor down to 30 mm stays within every limit in only 40 of 100 draws (95 are wanted). With an air stone running, up to 12 % of the floor would.",
		0:    "Don't: stirring 25 % of the floor down to 30 mm stays within every limit in none of the draws. With an air stone running, up to 12 % of the floor would.",
	} {
		r.Within = within
		if got := words.RehearsalVerdict(r, layers.MM); got != want {
			t.Errorf("found %q, want %q", got, want)
		}
	}
	r.Within, r.Largest[1].Share = 0.4, 0.12 // an air stone adds nothing to be seen
	if got := words.RehearsalVerdict(r, layers.MM); !strings.HasSuffix(got, "(95 are wanted). At most 12 % of the floor would.") {
		t.Errorf("found %q", got)
	}
	r.Before = 0.1
	if got := words.RehearsalVerdict(r, layers.MM); !strings.Contains(got, " The untouched water does so in only 10 of 100 draws (95 are wanted): see to it first. ") {
		t.Errorf("found %q", got)
	}
	r.Within, r.Before, r.Largest[1] = 0, 0, reports.LargestShare{Method: reports.MethodStir, DepthMM: 30, Aerated: 1}
	if got := words.RehearsalVerdict(r, layers.MM); !strings.HasSuffix(got, "The untouched water does so in none of the draws: see to it first. With an air stone running, it would.") {
		t.Errorf("found %q", got)
	}
	limit := 0.02
	r.Within, r.Before, r.Numbers = 1, 1, []reports.Rehearsed{{Name: "un-ionised ammonia", Limit: &limit}}
	if got := words.RehearsalVerdict(r, layers.MM); !strings.HasPrefix(got, "By oxygen alone, it can be done: ") || !strings.HasSuffix(got, "without a pH: test it first.") {
		t.Errorf("found %q", got)
	}
	r.Within, r.Never = 1, "The bed is rooted: never stir it."
	want := "Don't. The bed is rooted: never stir it. By the numbers alone, stirring 25 % of the floor down to 30 mm stays within every limit in 100 of 100 draws."
	if got := words.RehearsalVerdict(r, layers.MM); got != want {
		t.Errorf("found %q, want %q", got, want)
	}
}
