package photo

import (
	"errors"
	"math"
	"strings"
	"testing"

	"panecore/palette"
)

// rampField is sand over mud, ten blocks wide in rows of a tenth of a millimetre; between them the colour
// goes evenly from one to the other over wide mm about row 100. Its one edge is traced there.
func rampField(wide float64) *strata {
	const rows, blocks = 200, 10
	f := &field{rows: rows, blocks: blocks, pitch: 0.1, width: 1, lab: make([][3]float64, rows*blocks), seen: make([]bool, rows*blocks), veiled: make([]bool, rows*blocks)}
	for i := range f.lab {
		share := min(max((float64(i/blocks)+0.5-100)*f.pitch/max(wide, 1e-9)+0.5, 0), 1)
		f.seen[i] = true
		for c := range 3 {
			f.lab[i][c] = sand[c] + share*(mud[c]-sand[c])
		}
	}
	s := &strata{field: f, warp: warp{level: []float64{100}, at: make([][]float64, blocks)}}
	for b := range s.at {
		s.at[b] = []float64{100}
	}
	s.looks, s.levelled = f.looks(s.warp), f.level(s.warp)
	return s
}

// An edge that goes over evenly in so many millimetres is told to be as wide, within what is told of
// edges at all: 0.4 to 6 mm.
func TestWidth_ofARamp(t *testing.T) {
	for _, c := range [][2]float64{{0, 0.6}, {1, 1}, {1.5, 1.5}, {2.5, 2.5}, {4, 4}} {
		s := rampField(c[0])
		// between the colours of the layers' inner parts lies a little less than the whole step
		if got := s.width(0); math.Abs(got-c[1]) > 0.1*c[1] {
			t.Errorf("an edge over %g mm is %.2f mm wide, want %.2f", c[0], got, c[1])
		}
	}
	s := rampField(1)
	s.looks[1].mean = s.looks[0].mean // no step at all
	if got := s.width(0); got != softestWidth {
		t.Errorf("an edge between two alike is %g mm wide, want %g", got, softestWidth)
	}
}

// sound is a sight that nothing is to be said against.
func sound() sight {
	return sight{burnt: 0.1, hidden: 0.1, bright: 0.4, fine: 3, contrast: 15, color: 12, patchy: 0.3, steep: 0.8}
}

// certain is a bed of two layers that the keeper named.
func certain() named {
	column := palette.Column{}
	for _, b := range []palette.Band{palette.Rust, palette.Black} {
		column.Layers = append(column.Layers, palette.Seen{ThicknessMM: 10, Label: b})
	}
	match := palette.NewMatcher(nil, nil).Match(column)
	return named{layers: make([]bedLayer, 2), names: match.Names(), match: match}
}

// A strip is refused for one reason at a time, at the bounds that are stated with it.
func TestRefuse_bounds(t *testing.T) {
	for _, c := range []struct {
		what  string
		spoil func(*sight)
		want  string // how the reason begins; empty: it is read
	}{
		{"sound", func(*sight) {}, ""},
		{"six tenths white", func(v *sight) { v.burnt = 0.6 }, ""},
		{"white", func(v *sight) { v.burnt = 0.61 }, "61 % of the strip is white"},
		{"dim", func(v *sight) { v.bright = 0.02 }, ""},
		{"dark", func(v *sight) { v.bright = 0.0199 }, "the strip is too dark"},
		{"no grain", func(v *sight) { v.fine = 0.9 }, ""},
		{"no sharp edge", func(v *sight) { v.steep = 0.3 }, ""},
		{"no edge", func(v *sight) { v.steep = math.NaN() }, ""},
		{"neither", func(v *sight) { v.fine, v.steep = 0.99, 0.34 }, "the strip shows neither grain nor a sharp boundary"},
		{"no grain and no edge", func(v *sight) { v.fine, v.steep = 0.99, math.NaN() }, "the strip shows neither grain nor a sharp boundary"},
		{"little contrast", func(v *sight) { v.contrast = 3 }, ""},
		{"one colour", func(v *sight) { v.contrast = 2.9 }, "no layers can be told apart"},
	} {
		v := sound()
		c.spoil(&v)
		err := v.refuse(certain(), true)
		var refusal *Refusal
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: refused: %v", c.what, err)
		case c.want != "" && (!errors.As(err, &refusal) || !strings.HasPrefix(refusal.Reason, c.want) || refusal.Help == ""):
			t.Errorf("%s: got %v, want %q", c.what, err, c.want)
		}
	}
}

// One colour is read where it is surely the tank's own substrate, and nothing else is.
func TestRefuse_plain(t *testing.T) {
	native := palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}
	matcher := matcherFor(native)
	for name, c := range map[string]struct {
		color palette.Color
		read  bool
	}{"substrate": {native, true}, "rust": {palette.Color{R: 0xa9, G: 0x6c, B: 0x27}, false}} {
		match := matcher.Match(palette.Column{Layers: []palette.Seen{{Lab: c.color.Lab(), ThicknessMM: 40, Doubt: palette.DoubtCard}}})
		v := sound()
		v.contrast = 1
		if err := v.refuse(named{layers: make([]bedLayer, 1), names: match.Names(), match: match}, true); (err == nil) != c.read {
			t.Errorf("%s alone, named %v: %v", name, match.Names(), err)
		}
	}
}

// A reading is doubted for edges that are none of them sharp, for names that fit badly, and for patches
// that differ as layers do while there is little contrast and no sharp edge.
func TestDoubts_bounds(t *testing.T) {
	matcher := palette.NewMatcher(nil, nil)
	alone := func(r, g, b uint8, low, high float64) named {
		match := matcher.Match(palette.Column{Layers: []palette.Seen{{Lab: palette.Color{R: r, G: g, B: b}.Lab(), ThicknessMM: 10, Doubt: palette.DoubtTyped}}})
		names := match.Names()
		if p := match.Probability(0, names[0]); p < low || p > high {
			t.Fatalf("#%02x%02x%02x is %v with %.3f, want %g to %g: no test", r, g, b, names[0], p, low, high)
		}
		return named{make([]bedLayer, 1), names, match}
	}
	sure, fair, poor := certain(), alone(0x60, 0x50, 0x40, poorName, fairName), alone(0x66, 0x5d, 0x4a, 0, poorName)
	const blurred, misfits, patches = "no boundary is sharp", "fits no known bands well", "patches differ as much as layers do"
	for _, c := range []struct {
		what  string
		bed   named
		spoil func(*sight)
		want  string
	}{
		{"sound", sure, func(*sight) {}, ""},
		{"sharp enough", sure, func(v *sight) { v.steep = 0.35 }, ""},
		{"blurred", sure, func(v *sight) { v.steep = 0.34 }, blurred},
		{"fair names", fair, func(*sight) {}, ""},
		{"poor names", poor, func(*sight) {}, misfits},
		{"patchy", sure, func(v *sight) { v.patchy, v.contrast, v.steep = 0.51, 9.9, 0.49 }, patches},
		{"patchy, without edges", sure, func(v *sight) { v.patchy, v.contrast, v.steep = 0.51, 9.9, math.NaN() }, patches},
		{"patchy, of one layer", fair, func(v *sight) { v.patchy, v.contrast, v.steep = 0.51, 9.9, 0.49 }, ""},
		{"patchy, but with a sharp edge", sure, func(v *sight) { v.patchy, v.contrast, v.steep = 0.51, 9.9, 0.5 }, ""},
		{"patchy, but of much contrast", sure, func(v *sight) { v.patchy, v.contrast, v.steep = 0.51, 10, 0.49 }, ""},
		{"even, of little contrast", sure, func(v *sight) { v.patchy, v.contrast, v.steep = 0.5, 9.9, 0.49 }, ""},
		{"black and white", sure, func(v *sight) { v.color = 0.4 }, "black and white"},
	} {
		v := sound()
		c.spoil(&v)
		got := v.doubts(c.bed)
		if (c.want == "") != (len(got) == 0) || c.want != "" && (len(got) != 1 || !strings.Contains(got[0], c.want)) {
			t.Errorf("%s: doubts %q, want %q", c.what, got, c.want)
		}
	}
}
