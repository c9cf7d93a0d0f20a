package figure

import (
	"bytes"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// shortOfOxygen is an invented profile of a deep and still tank whose bottom is without
// oxygen, and whose plants lift the day's most above saturation.
func shortOfOxygen() reports.OxygenProfile {
	modelled := func(value, low, high float64) *reports.Estimate {
		return &reports.Estimate{Value: value, Low: low, High: high, Basis: reports.Model}
	}
	return reports.OxygenProfile{
		Format: reports.OxygenFormat, ID: "weir", Name: "Weir", AsOf: 20000, TemperatureC: 26, Saturation: 8.1, Limit: 3,
		Points: []reports.OxygenPoint{
			{Where: "water", DepthMM: 0, Oxygen: modelled(4.2, 2.9, 6.1)}, {Where: "water", DepthMM: 150, Oxygen: modelled(2.9, 1.4, 5.2)},
			{Where: "water", DepthMM: 300, Oxygen: modelled(1.6, 0, 4.3)}, {Where: "water", DepthMM: 450, Oxygen: modelled(0.4, 0, 3.4)},
			{Where: "water", DepthMM: 600, Oxygen: modelled(0, 0, 2.6)},
			{Where: "bed", DepthMM: 0, Oxygen: modelled(0, 0, 1.2)}, {Where: "bed", DepthMM: 0.5, Oxygen: modelled(0, 0, 0.3)},
			{Where: "bed", DepthMM: 1, Oxygen: modelled(0, 0, 0)}, {Where: "bed", DepthMM: 2, Oxygen: modelled(0, 0, 0)},
		},
		Penetration: modelled(0, 0, 0.9), OxicWater: modelled(480, 310, 600),
		Dawn:  reports.OxygenMoment{Hour: 7.5, Oxygen: modelled(2.1, 0.8, 4.6)},
		Dusk:  reports.OxygenMoment{Hour: 17.5, Oxygen: modelled(9.4, 7.2, 12.1)},
		Helps: []reports.OxygenMeasure{{Name: "an air stone", Bottom: modelled(7.6, 6.8, 8), Gain: modelled(7.4, 5.1, 8)}, {Name: "a pump that ripples the surface"}},
		Notices: []string{
			"Modelled to within a factor of about two: how fast the surface lets oxygen in is a guess. Oxygen measured before the lights come on would settle it.",
		},
	}
}

// typed draws what a keeper may have typed: short, long, markup, letters of any script.
func typed() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.StringMatching(`[a-z]{1,12}( [a-z]{1,9}){0,3}`),
		rapid.Just("<script>alert(1)</script> & \"quoted\" \u202etxet \x00 \x1b[31m \xff"),
		rapid.Just(strings.Repeat("W", 80)),
		rapid.StringOfN(rapid.RuneFrom(nil, unicode.Letter, unicode.Mn, unicode.So, unicode.Han, unicode.Nd), 1, 80, -1),
	)
}

// drawnEstimate draws an estimate of anything from nothing to what no tank can hold.
func drawnEstimate(t *rapid.T, name string, usual float64) *reports.Estimate {
	if rapid.IntRange(0, 5).Draw(t, name+" is not known") == 0 {
		return nil
	}
	three := rapid.SliceOfN(rapid.OneOf(
		rapid.Float64Range(0, usual), rapid.Float64Range(0, usual), rapid.Just(0.0), rapid.Float64Range(0, usual/1000), rapid.Just(1e60),
	), 3, 3).Draw(t, name)
	slices.Sort(three)
	return &reports.Estimate{
		Value: three[1], Low: three[0], High: three[2], AtLeast: rapid.IntRange(0, 9).Draw(t, name+" at least") == 0,
		Basis: rapid.SampledFrom([]reports.Basis{reports.Model, reports.Fitted}).Draw(t, "basis"),
	}
}

// drawnOxygen draws a profile such as records and models can give, and some that they can't.
func drawnOxygen(t *rapid.T) reports.OxygenProfile {
	x := reports.OxygenProfile{
		ID: typed().Draw(t, "id"), Name: typed().Draw(t, "name"), AsOf: 20000,
		TemperatureC: rapid.Float64Range(0, 45).Draw(t, "temperature"), Saturation: rapid.Float64Range(2, 15).Draw(t, "saturation"),
		Limit:       rapid.Float64Range(0.5, 12).Draw(t, "limit"),
		Penetration: drawnEstimate(t, "penetration", 12), OxicWater: drawnEstimate(t, "oxic water", 400),
		Dawn:    reports.OxygenMoment{Hour: rapid.Float64Range(0, 24).Draw(t, "dawn"), Oxygen: drawnEstimate(t, "at dawn", 15)},
		Dusk:    reports.OxygenMoment{Hour: rapid.Float64Range(0, 24).Draw(t, "dusk"), Oxygen: drawnEstimate(t, "at dusk", 30)},
		Notices: rapid.SliceOfN(typed(), 0, 3).Draw(t, "notices"),
	}
	depth := rapid.Float64Range(20, 10000).Draw(t, "water")
	for _, share := range []float64{0, 0.25, 0.5, 0.75, 1} {
		x.Points = append(x.Points, reports.OxygenPoint{Where: "water", DepthMM: math.Round(share*depth*100) / 100, Oxygen: drawnEstimate(t, "in the water", 14)})
	}
	depths := []float64{0, 0.5, 1, 2, 3, 5, 10}
	for _, mm := range depths[:rapid.IntRange(0, len(depths)).Draw(t, "in the bed")] {
		x.Points = append(x.Points, reports.OxygenPoint{Where: "bed", DepthMM: mm, Oxygen: drawnEstimate(t, "in the bed", 9)})
	}
	for range rapid.IntRange(0, 3).Draw(t, "helps") {
		x.Helps = append(x.Helps, reports.OxygenMeasure{Name: typed().Draw(t, "help"), Bottom: drawnEstimate(t, "helped", 14), Gain: drawnEstimate(t, "gain", 9)})
	}
	return x
}

var bothUnits = [...]layers.Units{layers.MM, layers.Inches}

// Whatever the profile, its words stand clear of each other and within the picture.
func TestOxygen_wordsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := drawnOxygen(t)
		for _, u := range bothUnits {
			testpictures.Clear(t, Oxygen(x, u))
		}
	})
}

// readGauge reads a gauge as a keeper would: off its numbers, which are set in the middle
// of their places. It finds those that stand in one line and gives what a place means.
func readGauge(t *rapid.T, w *testpictures.Marks, from, to string) (first, last float64) {
	for _, text := range w.Texts {
		if text.Anchor != pen.Centred {
			continue
		}
		switch text.Text {
		case from:
			first = (text.Left + text.Right) / 2
		case to:
			last = (text.Left + text.Right) / 2
		}
	}
	if first == 0 || last == 0 {
		t.Fatalf("found no %q and %q on a gauge", from, to)
	}
	return first, last
}

// oxygenGauge reads the gauge of oxygen: where nothing is, and a mg/L in mm.
func oxygenGauge(t *rapid.T, w *testpictures.Marks) (zero, perMG float64) {
	var most, last float64
	for _, text := range w.Texts {
		mg, err := strconv.ParseFloat(text.Text, 64)
		switch middle := (text.Left + text.Right) / 2; {
		case err != nil || text.Anchor != pen.Centred:
		case mg == 0:
			zero = middle
		case mg > most:
			most, last = mg, middle
		}
	}
	if zero == 0 || most == 0 {
		t.Fatalf("found no gauge of oxygen in %q", w.Words())
	}
	return zero, (last - zero) / most
}

// panelsOf finds the water and the bed by their tints.
func panelsOf(t *rapid.T, w *testpictures.Marks) (water, bed pen.Box) {
	for _, r := range w.Rects {
		switch r.Ink.Role {
		case pen.InkWater.Role:
			water = r.Box
		case pen.InkMulm.Role:
			bed = r.Box
		}
	}
	if water.Foot <= water.Top || math.Abs(water.Foot-bed.Top) > 1e-9 {
		t.Fatalf("water %v and bed %v are not joined", water, bed)
	}
	return water, bed
}

// What is known stands where the gauge and the depths of its panel say.
func TestOxygen_marksOnTheirNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := drawnOxygen(t)
		w := testpictures.MarksOf(Oxygen(x, rapid.SampledFrom(bothUnits[:]).Draw(t, "units")))
		zero, perMG := oxygenGauge(t, w)
		water, bed := panelsOf(t, w)
		fits := func(e *reports.Estimate) bool { return e != nil && zero+e.Value*perMG < water.Right-1e-6 }
		deepest := map[string]float64{}
		for _, p := range x.Points {
			deepest[p.Where] = max(deepest[p.Where], p.DepthMM)
		}
		for _, p := range x.Points {
			if !fits(p.Oxygen) {
				continue
			}
			panel := map[string]pen.Box{"water": water, "bed": bed}[p.Where]
			y := panel.Top
			if p.DepthMM > 0 {
				y += p.DepthMM / deepest[p.Where] * (panel.Foot - panel.Top)
			}
			if at := (pen.At(zero+p.Oxygen.Value*perMG, y)); !w.Passes(at) {
				t.Errorf("found no line through %v for %v mg/L in the %s at %v mm", at, p.Oxygen.Value, p.Where, p.DepthMM)
			}
		}
		below := []*reports.Estimate{x.Dawn.Oxygen, x.Dusk.Oxygen}
		for _, h := range x.Helps {
			below = append(below, h.Bottom)
		}
		for _, e := range below {
			if fits(e) && !w.HasDotBelow(zero+e.Value*perMG, bed.Foot) {
				t.Errorf("found no dot below the bed for %v mg/L", e.Value)
			}
		}
	})
}

// What the model says is a line: no place on it looks like a measurement. One number all day
// is said once.
func TestOxygen_modelIsALine(t *testing.T) {
	x := shortOfOxygen()
	w := testpictures.MarksOf(Oxygen(x, layers.MM))
	corners := 0
	for _, l := range w.Lines {
		if l.Width != curveWidth {
			continue
		}
		for _, p := range l.Points {
			if corners++; w.HasDot(p) {
				t.Errorf("a dot at %v on the model's line", p)
			}
		}
	}
	if corners != len(x.Points) {
		t.Errorf("the line has %d corners, want %d", corners, len(x.Points))
	}
	x.Dusk.Oxygen = x.Dawn.Oxygen
	found := testpictures.MarksOf(Oxygen(x, layers.MM)).Words()
	if !slices.Contains(found, "all day") || slices.Contains(found, "most, at 17:30") {
		t.Errorf("one number all day is said as %q", found)
	}
}

// The bed is as many times enlarged as is said, and every depth between has its place.
func TestOxygen_enlargedAsSaid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := shortOfOxygen()
		depth := rapid.Float64Range(20, 10000).Draw(t, "water")
		for i := range x.Points[:5] {
			x.Points[i].DepthMM = depth * float64(i) / 4
		}
		w := testpictures.MarksOf(Oxygen(x, layers.MM))
		water, bed := panelsOf(t, w)
		times := (bed.Foot - bed.Top) / 2 * depth / (water.Foot - water.Top)
		want := "depths drawn " + strings.TrimSuffix(words.Number(times, 1), ".0") + " times as"
		if text := strings.Join(w.Words(), " "); !strings.Contains(text, want) {
			t.Errorf("found no %q in %q", want, text)
		}
		if bed.Foot-bed.Top < 0.7*oxygenBed {
			t.Errorf("the bed is %v mm high", bed.Foot-bed.Top)
		}
	})
}

// The limit stands at its number, in the water and beside the numbers below, not in the bed.
func TestOxygen_limitNotInTheBed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := shortOfOxygen()
		x.Limit = rapid.Float64Range(0.5, 12).Draw(t, "limit")
		w := testpictures.MarksOf(Oxygen(x, layers.MM))
		zero, perMG := oxygenGauge(t, w)
		water, bed := panelsOf(t, w)
		inWater, below := 0, 0
		for _, l := range w.Lines {
			if l.Ink.Role != pen.InkLimit.Role {
				continue
			}
			top, foot := l.Points[0], l.Points[1]
			if l.Dash == 0 || math.Abs(top.X-zero-x.Limit*perMG) > 1e-6 {
				t.Errorf("the limit of %v mg/L stands at %v", x.Limit, top.X)
			}
			switch {
			case foot.Y <= water.Foot+1e-9:
				inWater++
			case top.Y >= bed.Foot:
				below++
			}
		}
		if inWater != 1 || below != 2 {
			t.Errorf("found %d lines in the water and %d below the bed", inWater, below)
		}
	})
}

// What is not known is said, and so is what the profile stands on.
func TestOxygen_said(t *testing.T) {
	x := shortOfOxygen()
	all := func() string { return strings.Join(testpictures.MarksOf(Oxygen(x, layers.MM)).Words(), " ") }
	for _, want := range []string{
		"Weir (weir): oxygen in the dark", "Read 2024-10-04, modelled.", "In the dark, the bottom of the water holds 0.0 mg/L (0.0 to 2.6); it should never be less than 3.0 mg/L.",
		"water, 600 mm", "bed, top 2 mm", "8.1 mg/L, at 26.0 °C", "oxygen ends at 480 mm (310 to 600)", "oxygen ends at 0.0 mm (0.0 to 0.9)",
		"least, at 07:30", "2.1 mg/L (0.8 to 4.6)", "with an air stone", "7.4 more (5.1 to 8.0)", "not known", x.Notices[0],
	} {
		if !strings.Contains(all(), want) {
			t.Errorf("found no %q in %q", want, all())
		}
	}
	bare := strings.Count(all(), "not known")
	x.Penetration, x.OxicWater, x.Dawn.Oxygen = nil, nil, nil // told once, and the bottom twice
	x.Points[4].Oxygen, x.Points[5].Oxygen = nil, nil
	if want := "How much oxygen the bottom of the water holds in the dark is not known"; !strings.Contains(all(), want) {
		t.Errorf("found no %q in %q", want, all())
	}
	if n := strings.Count(all(), "not known") - bare; n != 6 {
		t.Errorf("six more words are wanted, found %d in %q", n, all())
	}
	x.Name = strings.Repeat("long ", 200)
	if lines := titleLines(Oxygen(x, layers.MM)); lines != 2 {
		t.Errorf("a long name takes %d lines", lines)
	}
	for range x.Points {
		x.Points = x.Points[:len(x.Points)-1]
		Oxygen(x, layers.Inches) // draws what there is
	}
}

func titleLines(f *pen.Figure) (n int) {
	for _, text := range testpictures.MarksOf(f).Texts {
		if text.Size == pen.TitleSize {
			n++
		}
	}
	return n
}

func TestOxygen_typedIsText(t *testing.T) {
	x := shortOfOxygen()
	x.Name = typedMarkup
	textOnly(t, func() *pen.Figure { return Oxygen(x, layers.MM) })
}

// typedMarkup is a name that a picture must show as text.
const typedMarkup = "<script>alert(1)</script> & \"quoted\" \u202etxet \x00 \x1b[31m \xff"

// textOnly fails where markup that was typed gets into an SVG as such, or where the same
// figure gives other bytes.
func textOnly(t *testing.T, draw func() *pen.Figure) {
	t.Helper()
	var svg, again bytes.Buffer
	if err := draw().WriteSVG(&svg); err != nil {
		t.Fatal(err)
	}
	if err := draw().WriteSVG(&again); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(svg.Bytes(), again.Bytes()) {
		t.Error("the same figure gave other bytes")
	}
	wellFormed(t, svg.Bytes())
	if bytes.Contains(svg.Bytes(), []byte("<script")) || bytes.ContainsAny(svg.Bytes(), "\u202e\x00\x1b") {
		t.Error("what was typed got through as it was")
	}
}

// step gives a scale of round numbers, no more than are wanted and more than a third of
// them.
func TestStep_round(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		top := math.Pow(10, rapid.Float64Range(-3, 6).Draw(t, "top"))
		most := rapid.IntRange(3, 12).Draw(t, "most")
		by, decimals := pen.Step(top, most)
		if n := top / by; n > float64(most)+1e-6 || n < float64(most)/3 {
			t.Errorf("%v steps of %v to %v, want at most %d", n, by, top, most)
		}
		back, err := strconv.ParseFloat(words.Number(by, decimals), 64)
		if err != nil || math.Abs(back-by) > 1e-9*by {
			t.Errorf("%v is written as %v", by, back)
		}
	})
}

func BenchmarkOxygen(b *testing.B) {
	x := shortOfOxygen()
	for b.Loop() {
		Oxygen(x, layers.MM)
	}
}
