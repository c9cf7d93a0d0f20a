package figure

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
	"panecore/reports/figure/pen"
)

// rehearsedStir is an invented rehearsal of a stir that should not be done: an ammonia far
// above its limit, a sulphide that is not known, an oxygen that ends.
func rehearsedStir() reports.Rehearsal {
	ammonia, sulfide, oxygen := 0.0206, 0.002, 3.0
	none, some := 0.0, 0.31
	modelled := func(value, low, high float64) *reports.Estimate {
		return &reports.Estimate{Value: value, Low: low, High: high, Basis: reports.Model}
	}
	return reports.Rehearsal{
		Format: reports.RehearsalFormat, ID: "weir", Name: "Weir", AsOf: 20000, Method: reports.MethodStir, Share: 0.3, DepthMM: 20, Within: 0.02, Before: 0.97,
		Numbers: []reports.Rehearsed{
			{Name: "total ammonia", Unit: "mg N/L", After: modelled(2.31, 0.84, 6.02)},
			{Name: "un-ionised ammonia, at the day's highest pH", Unit: "mg N/L", After: modelled(0.14, 0.03, 2.8), Limit: &ammonia, Within: &none},
			{Name: "hydrogen sulphide, at once", Unit: "mg H2S/L"},
			{Name: "hydrogen sulphide, mean of a day", Unit: "mg H2S/L", Limit: &sulfide},
			{Name: "oxygen debt, in all", Unit: "mg/L", After: modelled(5.2, 1.6, 14.4)},
			{Name: "oxygen left after an hour", Unit: "mg/L", After: modelled(2.4, 0, 4.1), Limit: &oxygen, Below: true, Within: &some},
			{Name: "oxygen left after a day", Unit: "mg/L", After: modelled(0, 0, 2.2), Limit: &oxygen, Below: true, Within: &none},
		},
		Largest: []reports.LargestShare{
			{Method: reports.MethodSiphon, DepthMM: 10, Share: 0.42, Aerated: 1}, {Method: reports.MethodStir, DepthMM: 10, Share: 0.11, Aerated: 0.38},
			{Method: reports.MethodSiphon, DepthMM: 20, Share: 0.06, Aerated: 0.19}, {Method: reports.MethodStir, DepthMM: 20, Share: 0, Aerated: 0.05},
		},
		Notices: []string{"No ammonia was measured: the water is assumed to have held none before."},
	}
}

func drawnRehearsal(t *rapid.T) reports.Rehearsal {
	share := rapid.Float64Range(0, 1)
	r := reports.Rehearsal{
		ID: typed().Draw(t, "id"), Name: typed().Draw(t, "name"), AsOf: 20000,
		Method: rapid.SampledFrom([]reports.Method{reports.MethodStir, reports.MethodSiphon}).Draw(t, "method"),
		Share:  share.Draw(t, "share"), DepthMM: rapid.Float64Range(0.1, 2000).Draw(t, "depth"), Within: share.Draw(t, "within"), Before: share.Draw(t, "before"),
		Notices: rapid.SliceOfN(typed(), 0, 3).Draw(t, "notices"),
	}
	for range rapid.IntRange(0, 9).Draw(t, "numbers") {
		n := reports.Rehearsed{
			Name: typed().Draw(t, "number"), Unit: rapid.SampledFrom([]string{"mg/L", "mg N/L", "mg H2S/L"}).Draw(t, "unit"), Below: rapid.Bool().Draw(t, "below"),
			After: drawnEstimate(t, "after", math.Pow(10, rapid.Float64Range(-4, 3).Draw(t, "size"))),
			Limit: rapid.Ptr(rapid.Float64Range(0.0001, 12), true).Draw(t, "limit"),
		}
		if n.After != nil && n.Limit != nil {
			n.Within = rapid.Ptr(share, false).Draw(t, "kept")
		}
		r.Numbers = append(r.Numbers, n)
	}
	for _, times := range []float64{0.5, 1, 2}[:rapid.IntRange(0, 3).Draw(t, "depths")] {
		for _, m := range []reports.Method{reports.MethodSiphon, reports.MethodStir} {
			plain := share.Draw(t, "largest")
			r.Largest = append(r.Largest, reports.LargestShare{Method: m, DepthMM: times * r.DepthMM, Share: plain, Aerated: rapid.Float64Range(plain, 1).Draw(t, "aerated")})
		}
	}
	return r
}

// Whatever the rehearsal, its words stand clear of each other and within the picture.
func TestRehearsal_wordsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawnRehearsal(t)
		for _, u := range bothUnits {
			testpictures.Clear(t, Rehearsal(r, u))
		}
	})
}

// A number stands at its ratio to its limit, read off the gauge's ends; one further out than
// a hundred times has an arrowhead in its dot's stead.
func TestRehearsal_dotsAtTheirRatios(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawnRehearsal(t)
		r.Numbers = slices.DeleteFunc(r.Numbers, func(n reports.Rehearsed) bool { return n.Limit == nil || n.After == nil })
		if len(r.Numbers) == 0 {
			return
		}
		r.Largest = nil
		w := testpictures.MarksOf(Rehearsal(r, layers.MM))
		left, right := readGauge(t, w, "1/100", "100 times")
		outside := 0
		for _, n := range r.Numbers {
			share := math.Log10(n.After.Value/(*n.Limit)*100) / 4
			if share < 0 || share > 1 {
				outside++
				continue
			}
			if x := left + share*(right-left); !w.HasDotBelow(x, 0) {
				t.Errorf("found no dot at %v for %v times the limit", x, n.After.Value / *n.Limit)
			}
		}
		if len(w.Dots) != len(r.Numbers)-outside {
			t.Errorf("found %d dots for %d numbers, %d of them further out", len(w.Dots), len(r.Numbers), outside)
		}
		for _, area := range w.Areas {
			if tip := area[0].X; math.Abs(tip-left) > 1e-6 && math.Abs(tip-right) > 1e-6 {
				t.Errorf("an arrowhead at %v, the gauge ends at %v and %v", tip, left, right)
			}
		}
		if len(w.Areas) < outside {
			t.Errorf("%d arrowheads for %d numbers further out", len(w.Areas), outside)
		}
	})
}

// Each kind of limit has the side within it shaded and named, and one line is the limit of all.
func TestRehearsal_sidesWithin(t *testing.T) {
	w := testpictures.MarksOf(Rehearsal(rehearsedStir(), layers.MM))
	place := func(text string) (middle float64) {
		for _, written := range w.Texts {
			if written.Text == text {
				return (written.Left + written.Right) / 2
			}
		}
		t.Fatalf("found no %q in %q", text, w.Words())
		return 0
	}
	limit := place("limit")
	for _, test := range []struct {
		text  string
		right bool
	}{{"within: below", false}, {"too much", true}, {"too little", false}, {"within: above", true}} {
		if (place(test.text) > limit) != test.right {
			t.Errorf("%q stands at %v, the limit at %v", test.text, place(test.text), limit)
		}
	}
	var shades []pen.Box
	for _, r := range w.Rects {
		if r.Ink.Role == pen.InkWater.Role {
			shades = append(shades, r.Box)
		}
	}
	if len(shades) != 2 || math.Abs(shades[0].Right-limit) > 1e-9 || math.Abs(shades[1].Left-limit) > 1e-9 || shades[0].Foot > shades[1].Top {
		t.Errorf("the shades %v do not stand left and right of %v", shades, limit)
	}
	dashed := slices.DeleteFunc(w.Lines, func(l testpictures.Line) bool { return l.Dash == 0 })
	if len(dashed) != 1 || dashed[0].Points[0].X != limit || dashed[0].Points[0].Y > shades[0].Top || dashed[0].Points[1].Y < shades[1].Foot-1e-9 {
		t.Errorf("the limit is drawn as %v", dashed)
	}
}

// Dot and ring stand at the largest shares as it is and with an air stone, and what was
// asked for is marked in its own row alone.
func TestRehearsal_shares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawnRehearsal(t)
		if len(r.Largest) == 0 {
			return
		}
		r.Numbers = nil
		w := testpictures.MarksOf(Rehearsal(r, layers.MM))
		left, right := readGauge(t, w, "0 %", "100 %")
		if n := len(w.Dots) - len(r.Largest); n != 1 { // and that which says what a dot is
			t.Errorf("found %d dots for %d shares", len(w.Dots), len(r.Largest))
		}
		for _, l := range r.Largest {
			if x := left + l.Share*(right-left); !w.HasDotBelow(x, 0) {
				t.Errorf("found no dot at %v for %v", x, l.Share)
			}
			ring := left + l.Aerated*(right-left) + ringRadius
			if !slices.ContainsFunc(w.Lines, func(l testpictures.Line) bool { return len(l.Points) > 8 && math.Abs(l.Points[0].X-ring) < 1e-6 }) {
				t.Errorf("found no ring that begins at %v for %v", ring, l.Aerated)
			}
		}
		want := 0
		if len(r.Largest) > 2 { // the depth that was asked for is the second
			want = 1
		}
		asked := 0
		for _, l := range w.Lines {
			if l.Ink.Role == pen.InkLimit.Role && math.Abs(l.Points[0].X-left-r.Share*(right-left)) < 1e-6 {
				asked++
			}
		}
		if asked != want {
			t.Errorf("what was asked for is marked %d times, want %d", asked, want)
		}
	})
}

func TestRehearsal_said(t *testing.T) {
	f := Rehearsal(rehearsedStir(), layers.Inches)
	text := strings.Join(testpictures.MarksOf(f).Words(), " ")
	for _, want := range []string{
		"Weir (weir): a stir, rehearsed", "Read 2024-10-04, modelled.",
		"Don't: stirring 30 % of the floor down to 0.79 in stays within every limit in only 2 of 100 draws (95 are wanted). With an air stone running, up to 5 % of the floor would.",
		"un-ionised ammonia, at the day's highest pH 0.140 mg N/L (0.030 to 2.800)", "kept in 0 of 100 draws limit: at most 0.021 mg N/L",
		"hydrogen sulphide, mean of a day not known not known, so not judged limit: at most 0.002 mg H2S/L",
		"kept in 31 of 100 draws limit: at least 3.0 mg/L", "Without a limit here total ammonia 2.310 mg N/L (0.840 to 6.020) hydrogen sulphide, at once not known",
		"stir, down to 0.79 in 0 % 5 % asked: 30 %", "No ammonia was measured: the water is assumed to have held none before.",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("found no %q in %q", want, text)
		}
	}
	for _, want := range []string{"2.4 mg/L (0.0 to 4.1), kept in 31 of 100 draws", "siphon, down to 0.39 in: 42 % as it is, 100 % with an air stone"} {
		if !strings.Contains(f.Desc, want) {
			t.Errorf("found no %q in %q", want, f.Desc)
		}
	}
}

func TestRehearsal_typedIsText(t *testing.T) {
	r := rehearsedStir()
	r.Name = typedMarkup
	textOnly(t, func() *pen.Figure { return Rehearsal(r, layers.MM) })
}

func BenchmarkRehearsal(b *testing.B) {
	r := rehearsedStir()
	for b.Loop() {
		Rehearsal(r, layers.MM)
	}
}
