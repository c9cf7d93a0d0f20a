package palette

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// munsell is a notation at the head of a prototype's source: hue, value and, but for
// neutrals, chroma.
var munsell = regexp.MustCompile(`^(N|[\d.]+[A-Z]+) ([\d.]+)(?:/([\d.]+))?`)

// hueOf is the hue angle of a colour, degrees from 0 to 360, and chromaOf its distance from grey.
func hueOf(lab Lab) float64    { return math.Mod(math.Atan2(lab.B, lab.A)*180/math.Pi+360, 360) }
func chromaOf(lab Lab) float64 { return math.Hypot(lab.A, lab.B) }

// luminanceOf is the relative luminance of a Munsell value, white at 1: ASTM D1535-08, the
// polynomial for a perfect diffuser.
func luminanceOf(value float64) float64 {
	return value * (1.1914 + value*(-0.22533+value*(0.23352+value*(-0.020484+value*0.00081939)))) / 100
}

// A prototype with a Munsell notation is the colour of that notation: the one in
// testdata/checks/soilcolours.csv where the table has it; else as light as its value is by ASTM
// D1535, and of a chroma and, within 6° (dark colours of low chroma turn), a hue as the table's colours have.
func TestPrototypes_munsell(t *testing.T) {
	published := map[string]string{}
	hues, chromas := map[string][2]float64{}, [2]float64{math.Inf(1), 0}
	stretch := func(ends [2]float64, x float64) [2]float64 { return [2]float64{min(ends[0], x), max(ends[1], x)} }
	for _, row := range readChecks(t, "soilcolours.csv") {
		published[strings.TrimSuffix(row[2], "/")] = row[3]
		n := munsell.FindStringSubmatch(row[2])
		if chroma, err := strconv.ParseFloat(n[3], 64); err == nil && chroma >= 2 && strings.HasSuffix(n[1], "R") {
			lab := mustParse(t, row[3]).Lab()
			chromas = stretch(chromas, chromaOf(lab)/chroma)
			if _, ok := hues[n[1]]; !ok {
				hues[n[1]] = [2]float64{math.Inf(1), 0}
			}
			hues[n[1]] = stretch(hues[n[1]], hueOf(lab))
		}
	}
	found := 0
	for _, p := range prototypes {
		n := munsell.FindStringSubmatch(p.Source)
		if n == nil {
			continue
		}
		found++
		if hex, ok := published[n[0]]; ok {
			if p.Color.String() != hex {
				t.Errorf("%v of %s is %v, published as %s", p.Band, n[0], p.Color, hex)
			}
			continue
		}
		lab := p.Color.Lab()
		value, _ := strconv.ParseFloat(n[2], 64)
		off := 0.3 // L*: eight bits a channel
		if n[0] == "7.5YR 6/5" {
			off = 3 // pale cinnamon brown is darker than its notation
		}
		if want := Lightness(luminanceOf(value)); math.Abs(lab.L-want) > off {
			t.Errorf("%v of %s has L* %.1f, want %.1f", p.Band, n[0], lab.L, want)
		}
		chroma, err := strconv.ParseFloat(n[3], 64)
		if err != nil {
			if c := chromaOf(lab); c > 0.1 {
				t.Errorf("%v of %s has a chroma of %.1f, want none", p.Band, n[0], c)
			}
			continue
		}
		if c := chromaOf(lab) / chroma; c < chromas[0] || c > chromas[1] {
			t.Errorf("%v of %s has a chroma of %.1f a step, published colours have %.1f to %.1f", p.Band, n[0], c, chromas[0], chromas[1])
		}
		if ends, ok := hues[n[1]]; ok && (hueOf(lab) < ends[0]-6 || hueOf(lab) > ends[1]+6) {
			t.Errorf("%v of %s has a hue of %.0f°, published colours have %.0f° to %.0f°", p.Band, n[0], hueOf(lab), ends[0], ends[1])
		}
	}
	if found < 40 {
		t.Errorf("found %d prototypes with a notation, want 40 and more", found)
	}
}

// The colours of films and mats are assumptions, but each is of the hue that it is said to be, and
// as dark or bright (CIE L*C*h, hue in degrees).
func TestPrototypes_filmsAndMats(t *testing.T) {
	for _, p := range prototypes {
		var hue, light [2]float64
		switch lab := p.Color.Lab(); {
		case p.Band == FilmGreen:
			hue, light = [2]float64{120, 137}, [2]float64{30, 57}
		case strings.HasPrefix(p.Source, "blue-green"):
			hue, light = [2]float64{180, 192}, [2]float64{17, 40}
		case strings.HasPrefix(p.Source, "dark red"):
			hue, light = [2]float64{16, 24}, [2]float64{13, 32}
		case p.Band == MatWhite:
			hue, light = [2]float64{93, 99}, [2]float64{75, 95}
			if c := chromaOf(lab); c > 6 {
				t.Errorf("the white mat %v has a chroma of %.1f, want at most 6", p.Color, c)
			}
		default:
			if p.Band.IsOverlay() {
				t.Errorf("%v %v: its source does not say what colour it is", p.Band, p.Color)
			}
			continue
		}
		lab := p.Color.Lab()
		if h := hueOf(lab); h < hue[0] || h > hue[1] || lab.L < light[0] || lab.L > light[1] {
			t.Errorf("%v %v has hue %.0f° and L* %.1f, want %v° and %v", p.Band, p.Color, h, lab.L, hue, light)
		}
	}
}

// All prototypes of a meaning spread alike, and those that were counted over the soil
// descriptions somewhat wider in tanks: by a tenth to a third.
func TestPrototypes_spreads(t *testing.T) {
	counted := map[Band]float64{MulmDark: 4.2, Rust: 5.0, Black: 4.6, Grey: 4.5}
	type meaning struct {
		band Band
		kind string
	}
	spreads := map[meaning]float64{}
	for _, p := range prototypes {
		m := meaning{p.Band, p.Kind}
		if s, ok := spreads[m]; ok && s != p.Spread {
			t.Errorf("%v %s spreads by %g and by %g", p.Band, p.Kind, s, p.Spread)
		}
		spreads[m] = p.Spread
		if c, ok := counted[p.Band]; ok && (p.Spread < 1.08*c || p.Spread > 1.35*c) {
			t.Errorf("%v spreads by %g in tanks, counted over the soil descriptions %g", p.Band, p.Spread, c)
		}
	}
}
