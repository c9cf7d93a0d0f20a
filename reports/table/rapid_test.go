package table

import (
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/words"
)

// record draws text as a logbook may hold it: any characters but control ones,
// wide, joined and combined ones among them.
func record() *rapid.Generator[string] {
	word := rapid.OneOf(
		rapid.StringMatching(`[a-z]{1,12}[.,:;-]?`),
		rapid.StringOfN(rapid.RuneFrom(nil, unicode.Letter, unicode.Mn, unicode.So, unicode.Han, unicode.Nd), 1, 40, -1),
	)
	return rapid.Map(rapid.SliceOfN(word, 1, 12), func(words []string) string { return strings.Join(words, " ") })
}

func anyEstimate(least, most float64) *rapid.Generator[reports.Estimate] {
	return rapid.Custom(func(t *rapid.T) reports.Estimate {
		value := rapid.Float64Range(least, most).Draw(t, "value")
		return reports.Estimate{
			Value:    value,
			Low:      value - rapid.Float64Range(0, most/4).Draw(t, "below"),
			High:     value + rapid.Float64Range(0, most/4).Draw(t, "above"),
			Basis:    rapid.SampledFrom([]reports.Basis{"", reports.RustFront, reports.ReducedTop, reports.NotReached, reports.Trend, "model"}).Draw(t, "basis"),
			Readings: rapid.IntRange(0, 400).Draw(t, "readings"),
			AtLeast:  rapid.Bool().Draw(t, "at least"),
		}
	})
}

func anyDate() *rapid.Generator[layers.Date] {
	return rapid.Custom(func(t *rapid.T) layers.Date { return layers.Date(rapid.Int32Range(1, 40000).Draw(t, "day")) })
}

func anyCore() *rapid.Generator[reports.Core] {
	return rapid.Custom(func(t *rapid.T) reports.Core {
		depth := 0.0
		core := reports.Core{
			Station: record().Draw(t, "station"), Date: anyDate().Draw(t, "date"),
			Mulm:      rapid.Ptr(anyEstimate(0, 300), true).Draw(t, "mulm"),
			OxicDepth: rapid.Ptr(anyEstimate(0, 300), true).Draw(t, "oxic depth"),
			BlackTop:  rapid.Ptr(anyEstimate(0, 300), true).Draw(t, "black top"),
			BlackZone: rapid.Ptr(anyEstimate(0, 300), true).Draw(t, "black zone"),
		}
		for range rapid.IntRange(1, 9).Draw(t, "layers") {
			l := reports.Layer{
				TopMM: depth, Thickness: anyEstimate(0.1, 400).Draw(t, "thickness"),
				Hex:         palette.Color{R: rapid.Byte().Draw(t, "r"), G: rapid.Byte().Draw(t, "g"), B: rapid.Byte().Draw(t, "b")},
				Band:        rapid.SampledFrom(palette.Bands()).Draw(t, "band"),
				Probability: rapid.Float64Range(0, 1).Draw(t, "probability"),
				Labelled:    rapid.Bool().Draw(t, "labelled"),
			}
			for range rapid.IntRange(0, 2).Draw(t, "alternatives") {
				l.Alternatives = append(l.Alternatives, reports.Alternative{
					Band:        rapid.SampledFrom(palette.Bands()).Draw(t, "other band"),
					Probability: rapid.Float64Range(0, 0.5).Draw(t, "its probability"),
				})
			}
			depth += l.Thickness.Value
			core.Layers = append(core.Layers, l)
		}
		return core
	})
}

func anyReasons() *rapid.Generator[[]reports.Reason] {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) reports.Reason {
		return reports.Reason{
			Text: record().Draw(t, "text"), Mark: record().Draw(t, "mark"), Share: rapid.Float64Range(0, 1).Draw(t, "share"),
		}
	}), 0, 4)
}

func anyAdvice() *rapid.Generator[reports.Advice] {
	return rapid.Custom(func(t *rapid.T) reports.Advice {
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		return reports.Advice{
			Action:     rapid.SampledFrom([]reports.Action{reports.Leave, reports.Stir, reports.Siphon}).Draw(t, "action"),
			Confidence: share, Shares: reports.Shares{Leave: share, Stir: (1 - share) / 2, Siphon: (1 - share) / 2},
			How: record().Draw(t, "how"), First: rapid.SliceOfN(record(), 0, 3).Draw(t, "first"),
			Because: anyReasons().Draw(t, "because"), Against: anyReasons().Draw(t, "against"),
			Cautions: rapid.SliceOfN(record(), 0, 3).Draw(t, "cautions"), NextReading: anyDate().Draw(t, "next"),
		}
	})
}

func anyTank() *rapid.Generator[reports.Tank] {
	return rapid.Custom(func(t *rapid.T) reports.Tank {
		tank := reports.Tank{
			ID: rapid.StringMatching(`[a-z0-9-]{1,30}`).Draw(t, "id"), Name: record().Draw(t, "name"), AsOf: anyDate().Draw(t, "as of"),
			Cores:        rapid.SliceOfN(anyCore(), 0, 3).Draw(t, "cores"),
			OxicDepth:    rapid.Ptr(anyEstimate(0, 300), true).Draw(t, "oxic depth"),
			Penetration:  rapid.Ptr(anyEstimate(0, 30), true).Draw(t, "penetration"),
			Mulm:         rapid.Ptr(anyEstimate(0, 2000), true).Draw(t, "mulm"),
			BlackTop:     rapid.Ptr(anyEstimate(0, 2000), true).Draw(t, "black top"),
			BlackZone:    rapid.Ptr(anyEstimate(0, 2000), true).Draw(t, "black zone"),
			Accumulation: rapid.Ptr(anyEstimate(-100, 100), true).Draw(t, "accumulation"),
			FrontShift:   rapid.Ptr(anyEstimate(-100, 100), true).Draw(t, "front shift"),
			BottomOxygen: rapid.Ptr(anyEstimate(0, 15), true).Draw(t, "oxygen"),
			Ammonia:      rapid.Ptr(anyEstimate(0, 1), true).Draw(t, "ammonia"),
			Advice:       rapid.Ptr(anyAdvice(), true).Draw(t, "advice"),
			Notices:      rapid.SliceOfN(record(), 0, 4).Draw(t, "notices"),
		}
		if rapid.Bool().Draw(t, "forecast") {
			f := reports.Forecast{LimitMM: rapid.Float64Range(1, 500).Draw(t, "limit")}
			known := rapid.IntRange(0, 3).Draw(t, "dates") // a later date is known only where the earlier is
			for _, d := range []**layers.Date{&f.Earliest, &f.Expected, &f.Latest}[:known] {
				*d = new(anyDate().Draw(t, "date"))
			}
			tank.LimitReached = &f
		}
		return tank
	})
}

func write(t *rapid.T, o Options, tanks ...reports.Tank) string {
	var b strings.Builder
	if err := Write(&b, reports.Findings{Tanks: tanks}, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestWrite_noLineTooWide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tanks := rapid.SliceOfN(anyTank(), 1, 2).Draw(t, "tanks")
		for _, width := range []int{40, 60, 80, 120} {
			for _, o := range []Options{
				{Width: width}, {Width: width, Units: layers.Inches, Swatch: true}, {Width: width, Units: layers.Inches, ASCII: true},
			} {
				for line := range strings.Lines(write(t, o, tanks...)) {
					if got := ansi.StringWidth(strings.TrimSuffix(line, "\n")); got > width {
						t.Fatalf("found %d columns, want at most %d: %q", got, width, line)
					}
				}
			}
		}
	})
}

func TestWrite_nothingLostAt60(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := anyTank().Draw(t, "tank")
		units := rapid.SampledFrom([]layers.Units{layers.MM, layers.Inches}).Draw(t, "units")
		ascii := rapid.Bool().Draw(t, "ascii")
		o := Options{Width: 60, ASCII: ascii, Units: units}
		p := newPage(o)
		text := closeUp(write(t, o, tank))
		for _, want := range told(p, tank) {
			if !strings.Contains(text, closeUp(p.plain(want))) {
				t.Fatalf("%q is lost from\n%s", want, write(t, o, tank))
			}
		}
	})
}

// closeUp takes out the spaces and line ends that wrapping moves.
func closeUp(text string) string { return strings.Join(strings.Fields(text), "") }

// told lists what the report of a tank must say.
func told(p *page, t reports.Tank) []string {
	length, rate := words.Length(p.Units), words.Rate(p.Units)
	blackZone := t.BlackZone
	if !black(blackZone) {
		blackZone = nil
	}
	want := []string{t.ID, t.Name, t.AsOf.String()}
	for _, n := range []struct {
		e *reports.Estimate
		m words.Measure
	}{
		{t.OxicDepth, length}, {t.Penetration, length}, {t.Mulm, length}, {t.BlackTop, length}, {blackZone, length},
		{t.Accumulation, rate}, {t.FrontShift, rate}, {t.BottomOxygen, words.Oxygen()}, {t.Ammonia, words.Ammonia()},
	} {
		if n.e != nil {
			want = append(want, n.m.Value(*n.e)+n.m.Unit+n.m.Bounds(*n.e))
		}
	}
	for _, c := range t.Cores {
		want = append(want, c.Station+", read "+c.Date.String())
		for _, l := range c.Layers {
			want = append(want, words.OnRuler(p.Units, l.TopMM), p.thickness(l), l.Hex.String(), words.Band(l))
			if l.Labelled {
				want = append(want, "your label")
			} else if l.Doubtful() {
				want = append(want, "or "+l.Alternatives[0].Band.String())
			}
		}
		shown := []*reports.Estimate{c.OxicDepth, c.Mulm}
		if black(c.BlackZone) {
			shown = append(shown, c.BlackTop, c.BlackZone)
		}
		for _, e := range shown {
			if e != nil {
				want = append(want, length.Estimate(*e))
			}
		}
	}
	if f := t.LimitReached; f != nil {
		want = append(want, words.OnRuler(p.Units, f.LimitMM))
		reached := f.Latest != nil && *f.Latest <= t.AsOf || f.Expected != nil && *f.Expected <= t.AsOf
		for _, d := range []*layers.Date{f.Earliest, f.Expected, f.Latest} {
			if d != nil && !reached {
				want = append(want, d.String())
			}
		}
	}
	if a := t.Advice; a != nil {
		want = append(want, words.Action(a.Action), words.Draws(a.Confidence), a.How, a.NextReading.String())
		want = append(append(want, a.First...), a.Cautions...)
		for _, r := range append(a.Because, a.Against...) {
			want = append(want, r.Text, r.Mark)
			if r.Share < 1 {
				want = append(want, words.Draws(r.Share))
			}
		}
	}
	return append(want, t.Notices...)
}
