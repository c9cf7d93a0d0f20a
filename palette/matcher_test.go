package palette

import (
	"math"
	"strings"
	"testing"
)

// TestMeanings_publishedSoilColours ranks the meanings of the published mineral and soil colours of
// testdata/checks/soilcolours.csv, each by a matcher that has never seen it: prototypes that cannot be told
// from it by eye are left out, or the rows that became prototypes would prove nothing. Source and
// provenance stand in each row; the sets of acceptable meanings are the authors' reading of the
// published name of the material.
func TestMeanings_publishedSoilColours(t *testing.T) {
	const (
		noticed = 1.0 // CIEDE2000: about what an eye just tells apart (common practice, no source)

		// As measured: a change of the colours may not fall below unseen.
		wantRows, wantHeldOut, wantAcceptable, wantFirst = 96, 59, 94, 59
	)
	var rows, heldOut, first, acceptable int
	for _, row := range readChecks(t, "soilcolours.csv") {
		name, want, lab := row[0], strings.Split(row[1], "|"), mustParse(t, row[3]).Lab()
		m, seen := new(Matcher), 0
		for _, p := range prototypes {
			if Difference(p.Color.Lab(), lab) > noticed {
				m.add(p.Band, p.Kind, p.Color.Lab(), p.Spread)
				seen++
			}
		}
		rows++
		if seen < len(prototypes) {
			heldOut++
		}
		ranked := m.Meanings(lab, DoubtCard)
		got := meaningName(ranked[0])
		if got == want[0] {
			first++
		}
		if contains(want, got) {
			acceptable++
			continue
		}
		t.Logf("missed: %s, %s %s: ranked %s %.2f, then %s %.2f; acceptable %v", name, row[2], row[3],
			got, ranked[0].Probability, meaningName(ranked[1]), ranked[1].Probability, want)
	}
	t.Logf("%d rows, for %d of them a prototype was left out: %d acceptable, %d first-listed", rows, heldOut, acceptable, first)
	if rows != wantRows || heldOut < wantHeldOut || acceptable < wantAcceptable || first < wantFirst {
		t.Errorf("want %d rows, at least %d with a prototype left out, %d acceptable and %d first-listed",
			wantRows, wantHeldOut, wantAcceptable, wantFirst)
	}
}

// meaningName is a meaning as the table of soil colours writes it.
func meaningName(m Meaning) string {
	switch m.Band {
	case Native:
		return "native:" + m.Kind
	case Unknown:
		return "other"
	}
	return m.Band.String()
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// TestNewMatcher_own: a colour that only the keeper knows is named by it.
func TestNewMatcher_own(t *testing.T) {
	violet := Color{0x70, 0x30, 0x90} // purple bacteria on lit sand, say
	if got := NewMatcher(nil, nil).Meanings(violet.Lab(), DoubtTyped)[0].Band; got != Unknown {
		t.Fatalf("violet is named %v without the keeper's word: this test shows nothing", got)
	}
	m := NewMatcher(nil, []Prototype{{Band: FilmDark, Color: violet, Spread: 5}})
	if got := m.Meanings(violet.Lab(), DoubtTyped)[0].Band; got != FilmDark {
		t.Errorf("violet is named %v, want the keeper's film-dark", got)
	}
}

// TestMatch_besideDarkSoil: over a dark native colour a layer counts as reduced from 6 CIEDE2000
// away. All colours are published ones of testdata/checks/soilcolours.csv (sources there); the soil
// is a black muck, 10YR 2/1.
func TestMatch_besideDarkSoil(t *testing.T) {
	soil := mustParse(t, "#373029")
	for _, c := range []struct {
		munsell, hex string
		apart        float64
		reduced      bool
	}{
		{"5Y 2.5/1", "#403c33", 4.5, false},
		{"10Y 2.5/1", "#3d3c33", 5.7, false},
		{"N 2.5", "#3c3c3c", 6.5, true},
		{"5Y 3/1", "#4c473e", 7.6, true},
	} {
		seen := mustParse(t, c.hex)
		if d := Difference(seen.Lab(), soil.Lab()); math.Abs(d-c.apart) > 0.05 {
			t.Fatalf("%s is %.2f from the soil, want %.1f", c.munsell, d, c.apart)
		}
		of := func(mm float64, color Color) Seen {
			return Seen{Lab: color.Lab(), ThicknessMM: mm, Doubt: DoubtTyped}
		}
		column := Column{Layers: []Seen{of(15, mustParse(t, "#7c593a")), of(4, mustParse(t, "#ae6931")), of(20, seen), of(40, soil)}}
		m := NewMatcher([]Baseline{{"soil", soil}}, nil).Match(column)
		if p := m.Probability(2, Black) + m.Probability(2, Grey); (p > 0.5) != c.reduced || !c.reduced && p > 0.2 {
			t.Errorf("%s, %.1f from the soil, is reduced with %.3f", c.munsell, c.apart, p)
		}
	}
}

// TestNewMatcher_darkSoil: only of a soil darker than L* 40 is that asked; a lighter one can't pass
// for iron sulphide.
func TestNewMatcher_darkSoil(t *testing.T) {
	for hex, dark := range map[string]bool{"#5d5d5d": true, "#5f5f5f": false} { // L* 39.4 and 40.2
		soil := mustParse(t, hex)
		grey := NewMatcher([]Baseline{{"soil", soil}}, nil).likelihoods(soil.Lab(), DoubtTyped)[Grey]
		if usual := NewMatcher(nil, nil).likelihoods(soil.Lab(), DoubtTyped)[Grey]; (grey < usual/10) != dark {
			t.Errorf("soil of %s, L* %.1f: grey is as likely as %.3g, without a baseline %.3g", hex, soil.Lab().L, grey, usual)
		}
	}
}

// TestMatch_filmWantsLight: a green that may be a film or not is one with a twelfth of the odds
// where the glass is told to be unlit, and even where it may be lit it is no film unless it is
// green (assumptions: one layer in eighty, one in a thousand).
func TestMatch_filmWantsLight(t *testing.T) {
	odds := func(green string, unlit bool) float64 {
		column := Column{Unlit: unlit}
		for _, l := range []struct {
			mm  float64
			hex string
		}{{12, "#8b6a48"}, {5, green}, {30, "#3c3c38"}, {40, "#d9cba6"}} {
			column.Layers = append(column.Layers, Seen{Lab: mustParse(t, l.hex).Lab(), ThicknessMM: l.mm, Doubt: DoubtTyped})
		}
		p := NewMatcher(nil, nil).Match(column).Probability(1, FilmGreen)
		return p / (1 - p)
	}
	for _, green := range []string{"#5a6a3c", "#66703c", "#5c6b4a"} {
		lit, unlit := odds(green, false), odds(green, true)
		if ratio := lit / unlit; ratio < 10 || ratio > 15 {
			t.Errorf("%s: odds of a film %.3g where light may fall, %.3g without: %.1f times as much", green, lit, unlit, ratio)
		}
	}
	if film, brown := odds("#4f7a3a", false), odds("#6e6545", false); film < 4 || brown > 0.02 {
		t.Errorf("odds of a film: green %.3g, olive brown %.3g", film, brown)
	}
}

func mustParse(t *testing.T, hex string) Color {
	t.Helper()
	color, err := ParseColor(hex)
	if err != nil {
		t.Fatal(err)
	}
	return color
}
