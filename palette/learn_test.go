package palette

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// taught is a column of mulm, sand, rust, mud and sand again, under light of which little is
// known.
func taught(sand Color, mm float64) Column {
	column := Column{Light: Light{EVDoubt: 0.4, Veil: 0.01, VeilDoubt: 0.01}}
	for _, l := range []struct {
		color Color
		mm    float64
	}{{Color{0x7c, 0x59, 0x3a}, 12}, {sand, mm}, {Color{0xa9, 0x6c, 0x27}, 4}, {Color{0x26, 0x26, 0x26}, 14}, {sand, 3 * mm}} {
		column.Layers = append(column.Layers, Seen{Lab: l.color.Lab(), ThicknessMM: l.mm, Doubt: DoubtCard})
	}
	return column
}

// The native colour that a photo shows is learnt where enough of it is recognised.
func TestLessons(t *testing.T) {
	typed, shown := Color{0xd9, 0xcb, 0xa6}, Color{0xcf, 0xc4, 0xa8}
	own := NewMatcher([]Baseline{{"sand", typed}}, nil)
	for name, test := range map[string]struct {
		m    *Matcher
		mm   float64
		want int
	}{
		"thick":                   {own, 10, 1},
		"a few millimetres":       {own, 1, 0},
		"no native colours known": {NewMatcher(nil, nil), 10, 0},
	} {
		column := taught(shown, test.mm)
		match := test.m.match(column, column.Light.states(), nil)
		list := test.m.lessons(column, match)
		if len(list) != test.want {
			t.Errorf("%s: learnt %d colours, want %d", name, len(list), test.want)
			continue
		}
		for _, l := range list {
			if off := Difference(l.color.Lab(), shown.Lab()); off > 0.5 {
				t.Errorf("%s: learnt %v, which is %.1f from what is shown", name, l.color.Color(), off)
			}
			if math.Abs(l.doubt-DoubtCard) > 1e-9 {
				t.Errorf("%s: learnt with a doubt of %.2f, want that of the layers, %g", name, l.doubt, DoubtCard)
			}
		}
	}
}

// Each of two substrates learns from its own layers.
func TestLessons_two(t *testing.T) {
	sand, clay := Color{0xd9, 0xcb, 0xa6}, Color{0x8e, 0x52, 0x38}
	m := NewMatcher([]Baseline{{"sand", sand}, {"clay", clay}}, nil)
	column := taught(sand, 10)
	column.Layers[4].Lab = clay.Lab()
	list := m.lessons(column, m.match(column, column.Light.states(), nil))
	if len(list) != 2 {
		t.Fatalf("learnt %d colours, want 2", len(list))
	}
	for i, want := range []Color{sand, clay} {
		if off := Difference(list[i].color.Lab(), want.Lab()); off > 1 {
			t.Errorf("learnt %v for %v", list[i].color.Color(), want)
		}
	}
}

func TestShareOf_addsUp(t *testing.T) {
	m := NewMatcher([]Baseline{{"sand", Color{0xd9, 0xcb, 0xa6}}, {"gravel", Color{0xc4, 0xa4, 0x7c}}, {"clay", Color{0x8e, 0x52, 0x38}}}, nil)
	for _, c := range []Color{{0xd0, 0xbb, 0x98}, {0x94, 0x5e, 0x42}} {
		color, sum := tint(c.Lab()), 0.0
		for i := range m.groups {
			if m.groups[i].band == Native {
				sum += m.shareOf(i, &color, DoubtCard)
			}
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Errorf("%v: the shares of the native colours add up to %v", c, sum)
		}
	}
	far := tint(Lab{L: 50, A: 90, B: -90})
	for i := range m.groups {
		if got := m.shareOf(i, &far, DoubtCard); got != 0 {
			t.Errorf("a colour that is none of them has a share of %v", got)
		}
	}
}

// Matching leaves a matcher as it was: it may be shared.
func TestMatch_leavesMatcher(t *testing.T) {
	native := []Baseline{{"sand", Color{0xd9, 0xcb, 0xa6}}}
	m := NewMatcher(native, nil)
	m.Match(taught(Color{0xc0, 0xb4, 0x98}, 12))
	if !reflect.DeepEqual(m, NewMatcher(native, nil)) {
		t.Error("a column taught the matcher for good")
	}
}

// Beds whose native colour was typed about 3 CIEDE2000 off, as a keeper types it, are named no worse
// where the photo's own native layers are learnt from: of the layers that learning names otherwise,
// those made wrong outnumber those made right by no more than three standard errors.
func TestMatch_learnsNative(t *testing.T) {
	const grains = 1.5 // root-mean-square CIEDE2000 that layers of the same grains differ by (assumption)
	rng := rand.New(rand.NewPCG(9, 5))
	learnt, plain, changed, all := 0, 0, 0, 0
	for range 600 {
		b := drawBed(rng)
		for i, band := range b.bands {
			if band == Native { // the same grains all the way down
				b.column.Layers[i].Lab = drawAbout(rng, Prototype{Color: b.native[0].Color, Spread: grains}, 1).Lab()
			}
		}
		column := photographed(b, 0.4*rng.NormFloat64(), 0.01)
		column.Light = Light{EVDoubt: 0.5, Veil: 0.01, VeilDoubt: 0.01}
		typed := drawAbout(rng, Prototype{Color: b.native[0].Color, Spread: 3}, 1)
		m := NewMatcher([]Baseline{{"own", typed}}, nil)
		with, without := m.Match(column).Names(), m.match(column, column.Light.states(), nil).Names()
		for i, band := range b.bands {
			all++
			if with[i] == band {
				learnt++
			}
			if without[i] == band {
				plain++
			}
			if (with[i] == band) != (without[i] == band) {
				changed++
			}
		}
	}
	t.Logf("%d layers: %.1f %% named right with what the photo teaches, %.1f %% without", all, percent(learnt, all), percent(plain, all))
	if float64(learnt) < float64(plain)-3*math.Sqrt(float64(changed)) || percent(learnt, all) < 94 {
		t.Errorf("%.1f %% named right, %.1f %% without learning", percent(learnt, all), percent(plain, all))
	}
}
