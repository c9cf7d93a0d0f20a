package photo

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"panecore/palette"
)

func labOf(lightness, chroma, hue float64) palette.Lab {
	sin, cos := math.Sincos(hue * math.Pi / 180)
	return palette.Lab{L: lightness, A: chroma * cos, B: chroma * sin}
}

// Colours of sky, skin, cloth and leaves are foreign to a bed; those of its materials are not.
func TestForeign(t *testing.T) {
	for _, c := range []struct {
		what                   string
		lightness, chroma, hue float64
		mm                     float64
		want                   bool
	}{
		{"pale sand", 76, 20, 78, 30, false},
		{"grey-blue gravel", 53, 6, 260, 30, false},
		{"laterite", 45, 45, 42, 30, false},
		{"wet rust", 50, 49, 61, 5, false},
		{"dark soil", 20, 5, 30, 30, false},
		{"green film", 46, 35, 126, 4, false},
		{"blue-green black film", 25, 15, 179, 8, false},
		{"stained sand", 30, 24, 102, 20, false},
		{"sky", 65, 23, 264, 10, true},
		{"violet", 43, 25, 329, 10, true},
		{"red cloth", 30, 30, 23, 5, true},
		{"skin", 74, 26, 52, 10, true},
		{"orange", 60, 60, 65, 10, true},
		{"meadow", 47, 28, 131, 20, true},
	} {
		if got := foreign(labOf(c.lightness, c.chroma, c.hue), c.mm); got != c.want {
			t.Errorf("%s is foreign: %t, want %t", c.what, got, c.want)
		}
	}
}

// An arch that leans is as even as a level line; rows that jump are not.
func TestRaggedness(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	s := &strata{field: &field{pitch: 0.2}, warp: warp{at: make([][]float64, 40)}}
	for b := range s.at {
		x := float64(b)
		s.at[b] = []float64{50 + 0.5*x - 0.02*x*x, 50 + 10*rng.NormFloat64()}
	}
	if got := s.raggedness(0); got > 1e-9 {
		t.Errorf("an arch is %.3g mm ragged, want none", got)
	}
	if got := s.raggedness(1); got < 1.4 || got > 2.6 { // 10 rows of 0.2 mm, 40 draws less three curves
		t.Errorf("edges with a deviation of 2 mm are %.2f mm ragged", got)
	}
}

// What a strip is made of is refused or doubted for one reason at a time.
func TestMakeup_bounds(t *testing.T) {
	good := makeup{foreign: 0.1, unknown: 0.2, ragged: 0.3, each: 8, layers: 5}
	for _, c := range []struct {
		what  string
		spoil func(*makeup, *sight)
		want  string // in the doubt; empty: none
	}{
		{"a bed", func(*makeup, *sight) {}, ""},
		{"foreign", func(m *makeup, _ *sight) { m.foreign = 0.16 }, "16 % of the depth has colours"},
		{"unknown", func(m *makeup, _ *sight) { m.unknown = 0.26 }, "26 % of the depth fits no band"},
		{"hidden", func(_ *makeup, v *sight) { v.hidden = 0.26 }, "26 % of it is hidden"},
		{"ragged", func(m *makeup, _ *sight) { m.ragged = 0.41 }, "don't cross the strip evenly"},
		{"patchy", func(_ *makeup, v *sight) { v.patchy = 0.86 }, "patches side by side"},
		{"crowded", func(m *makeup, _ *sight) { m.each = 4.9 }, "5 layers of 4.9 mm each are too many"},
		{"thin, but few", func(m *makeup, _ *sight) { m.each, m.layers = 4.9, 3 }, ""},
		{"smooth", func(_ *makeup, v *sight) { v.fine = 0.9 }, "no grain"},
		{"one material", func(m *makeup, v *sight) { m.layers, v.patchy = 1, 1 }, "one material"},
	} {
		m, v := good, sound()
		c.spoil(&m, &v)
		got := m.doubts(v, false)
		if (c.want == "") != (len(got) == 0) || c.want != "" && (len(got) != 1 || !strings.Contains(got[0], c.want)) {
			t.Errorf("%s: doubts %q, want %q", c.what, got, c.want)
		}
		if err := m.refuse(1); err != nil {
			t.Errorf("%s: refused: %v", c.what, err)
		}
	}
	if got := (makeup{layers: 1}).doubts(sound(), true); len(got) != 0 {
		t.Errorf("the tank's own substrate alone is doubted: %q", got)
	}
	sky := makeup{foreign: 0.51, layers: 3}
	if err := sky.refuse(1); !errors.As(err, new(*Refusal)) {
		t.Errorf("sky: got %v, want a refusal", err)
	}
	if err := sky.refuse(0); err != nil {
		t.Errorf("without a card the hue is not sure, but it was refused: %v", err)
	}
}

// shadedField is one colour in rows of 0.1 mm, so many times as light at a place from -1 to 1
// across and 0 to 1 down, with grain; its edge is traced at half the depth.
func shadedField(color palette.Color, grain float64, light func(x, z float64) float64) *strata {
	const rows, blocks = 300, 20
	rng := rand.New(rand.NewPCG(8, 9))
	f := &field{rows: rows, blocks: blocks, pitch: 0.1, width: 1, lab: make([][3]float64, rows*blocks), seen: make([]bool, rows*blocks), veiled: make([]bool, rows*blocks)}
	for i := range f.lab {
		c := color.Linear()
		by := light(2*float64(i%blocks)/blocks-1, float64(i/blocks)/rows)
		for ch := range c {
			c[ch] *= by
		}
		lab := c.Lab()
		f.lab[i], f.seen[i] = [3]float64{lab.L + grain*rng.NormFloat64(), lab.A, lab.B}, true
	}
	s := &strata{field: f, kappa: 1, warp: warp{level: []float64{0, rows / 2}, at: make([][]float64, blocks)}}
	for b := range s.at {
		s.at[b] = []float64{0, rows / 2}
	}
	s.looks, s.levelled = f.looks(s.warp), f.level(s.warp)
	return s
}

// One material in a light that falls off smoothly is one layer; a step in lightness, or in hue,
// makes two.
func TestUnshaded(t *testing.T) {
	sand := palette.Color{R: 190, G: 165, B: 120}
	for _, c := range []struct {
		what  string
		grain float64
		light func(x, z float64) float64
		want  int
	}{
		{"fall-off", 0.5, func(_, z float64) float64 { return 1 - 0.6*z }, 1},
		{"a lamp from the side", 0.5, func(x, z float64) float64 { return 0.3 + 0.7*math.Exp(-1.5*z-0.3*(x-0.5)*(x-0.5)) }, 1},
		{"a step", 0.5, func(_, z float64) float64 { return map[bool]float64{true: 0.6, false: 1}[z > 0.5] }, 2},
		{"a step in grain", 4, func(_, z float64) float64 { return map[bool]float64{true: 0.6, false: 1}[z > 0.5] }, 2},
		{"a step in fall-off", 0.5, func(_, z float64) float64 { return (1 - 0.2*z) * map[bool]float64{true: 0.6, false: 1}[z > 0.5] }, 2},
	} {
		s := shadedField(sand, c.grain, c.light)
		if got := s.unshaded(s.bed()); len(got) != c.want {
			t.Errorf("%s: %d layers, want %d", c.what, len(got), c.want)
		}
	}
	s := shadedField(sand, 0.5, func(_, z float64) float64 { return 1 - 0.6*z })
	for i := range s.field.lab {
		if i/s.field.blocks >= s.field.rows/2 {
			s.field.lab[i][1] += 12
		}
	}
	s.looks, s.levelled = s.field.looks(s.warp), s.field.level(s.warp)
	if got := s.unshaded(s.bed()); len(got) != 2 {
		t.Error("layers of two hues were joined as one material")
	}
}

// The best fit leaves what its curves can't make up.
func TestFit_left(t *testing.T) {
	var f fit
	for _, v := range [][2]float64{{-1, 3}, {0, 1}, {1, 5}} { // about 2, 3 and 4 on the best line
		f.add([]float64{1, v[0], 2 * v[0]}, v[1]) // the third curve is the second again
	}
	if got := f.left(); math.Abs(got-6) > 1e-9 {
		t.Errorf("left %.3f, want 6", got)
	}
}
