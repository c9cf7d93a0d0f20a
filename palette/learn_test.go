package palette

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// photo is a column under light of which little is known.
func photo(t *testing.T, layers ...struct {
	hex string
	mm  float64
}) Column {
	column := Column{Light: Light{EVDoubt: 0.4, Veil: 0.01, VeilDoubt: 0.01}}
	for _, l := range layers {
		column.Layers = append(column.Layers, Seen{Lab: mustParse(t, l.hex).Lab(), ThicknessMM: l.mm, Doubt: DoubtCard})
	}
	return column
}

// taught is a column of mulm, sand, rust, mud and sand again.
func taught(t *testing.T, sand string) Column {
	type layer = struct {
		hex string
		mm  float64
	}
	return photo(t, layer{"#7c593a", 12}, layer{sand, 12}, layer{"#a96c27", 4}, layer{"#262626", 14}, layer{sand, 36})
}

// A photo shows its own native colour, whatever was entered: the sand off the bed, dry sand of a shop's
// picture, or nothing.
func TestMatch_showsNative(t *testing.T) {
	const shown = "#a99a78"
	want := []Band{MulmLight, Native, Rust, Black, Native}
	for name, entered := range map[string][]Baseline{
		"as seen":    {{"sand", mustParse(t, shown)}},
		"dry":        {{"sand", mustParse(t, "#d8c69b")}}, // nearly a stop lighter
		"none":       nil,
		"other sand": {{"clay", mustParse(t, "#8e5238")}, {"sand", mustParse(t, shown)}},
	} {
		if got := NewMatcher(entered, nil).Names(taught(t, shown)); !slices.Equal(got, want) {
			t.Errorf("%s: named %v, want %v", name, got, want)
		}
	}
}

// Each of two substrates is native, though only one can be shown by a layer at a time.
func TestMatch_showsTwo(t *testing.T) {
	m := NewMatcher([]Baseline{{"sand", mustParse(t, "#d9cba6")}, {"clay", mustParse(t, "#8e5238")}}, nil)
	column := taught(t, "#d9cba6")
	column.Layers[4].Lab = mustParse(t, "#8e5238").Lab()
	if got, want := m.Names(column), []Band{MulmLight, Native, Rust, Black, Native}; !slices.Equal(got, want) {
		t.Errorf("named %v, want %v", got, want)
	}
}

// A bed that lies in the shade of its own grains is told from one under little light, so that its light is
// known where the substrate was entered as it looks.
func TestMatch_shade(t *testing.T) {
	column := taught(t, "#857959")
	column.Layers[0].Lab = mustParse(t, "#5b4029").Lab() // mulm, rust and mud of taught, a stop darker
	column.Layers[2].Lab = mustParse(t, "#7c4e1a").Lab()
	column.Layers[3].Lab = mustParse(t, "#191919").Lab()
	match := NewMatcher([]Baseline{{"sand", mustParse(t, "#857959")}}, nil).Match(column)
	if got, want := match.Names(), []Band{MulmLight, Native, Rust, Black, Native}; !slices.Equal(got, want) {
		t.Errorf("named %v, want %v", got, want)
	}
	if ev := match.Light().EV; math.Abs(ev) > 0.35 {
		t.Errorf("the light is put %.2f stops off, want next to none", ev)
	}
}

// A layer's texture is weighed: grains of sand and flocs of mulm of one colour.
func TestMatch_texture(t *testing.T) {
	sand := Texture{0.7, 0.3}
	column := taught(t, "#857959")
	of := func(texture Texture) float64 {
		column.Layers[0].Texture, column.Layers[4].Texture = texture, sand
		return NewMatcher(nil, nil).Match(column).Probability(0, MulmLight)
	}
	if fine, unknown, coarse := of(Texture{0.3, 0.6}), of(Texture{}), of(sand); !(fine >= unknown && unknown > coarse) {
		t.Errorf("mulm is as likely as %.3f with fine grain, %.3f with unknown, %.3f with coarse", fine, unknown, coarse)
	}
}

// Matching leaves a matcher as it was: it may be shared.
func TestMatch_leavesMatcher(t *testing.T) {
	native := []Baseline{{"sand", Color{0xd9, 0xcb, 0xa6}}}
	m := NewMatcher(native, nil)
	m.Match(taught(t, "#c0b498"))
	if !reflect.DeepEqual(m, NewMatcher(native, nil)) {
		t.Error("a column taught the matcher for good")
	}
}

// Beds whose native colour was typed about 3 CIEDE2000 off, as a keeper types it, are named by what the
// photo shows of it.
func TestMatch_learnsNative(t *testing.T) {
	const grains = 1.5 // root-mean-square CIEDE2000 that layers of the same grains differ by (assumption)
	rng := rand.New(rand.NewPCG(9, 5))
	right, all := 0, 0
	for range 200 {
		b := drawBed(rng)
		for i, band := range b.bands {
			if band == Native { // the same grains all the way down
				b.column.Layers[i].Lab = drawAbout(rng, Prototype{Color: b.native[0].Color, Spread: grains}, 1).Lab()
			}
		}
		column := photographed(b, 0.4*rng.NormFloat64(), 0.01)
		column.Light = Light{EVDoubt: 0.5, Veil: 0.01, VeilDoubt: 0.01}
		typed := drawAbout(rng, Prototype{Color: b.native[0].Color, Spread: 3}, 1)
		names := NewMatcher([]Baseline{{"own", typed}}, nil).Names(column)
		for i, band := range b.bands {
			all++
			if names[i] == band {
				right++
			}
		}
	}
	t.Logf("%d layers: %.1f %% named right", all, percent(right, all))
	if percent(right, all) < 92 {
		t.Errorf("%.1f %% named right", percent(right, all))
	}
}

// One material fades with depth but keeps its hue: what differs so much in light is likelier the same from afar,
// what differs in hue is not.
func TestShown_fades(t *testing.T) {
	s := &shown{Lab: Lab{50, 5, 20}, weight: 1}
	of := func(lab Lab, depth float64) float64 { return s.density(lab, &Seen{DepthMM: depth}) }
	if near, far := of(Lab{43, 5, 20}, 5), of(Lab{43, 5, 20}, 40); far < 2*near {
		t.Errorf("7 L* darker: %g at 5 mm and %g at 40 mm, want it likelier from afar", near, far)
	}
	if light, hue := of(Lab{46, 5, 20}, 10), of(Lab{50, 9, 20}, 10); light < 10*hue {
		t.Errorf("4 darker %g, 4 redder %g, want hue to tell more", light, hue)
	}
	if yellow, red := of(Lab{50, 5, 23}, 10), of(Lab{50, 8, 20}, 10); yellow < red {
		t.Errorf("3 yellower %g, 3 redder %g, want lamps to tint between blue and yellow", yellow, red)
	}
}

// The mean of few grains is less sure than that of many: by hand, a layer one grain thick shows 25 grains of contrast 1,
// which is a fifth of (L*+16)/3.
func TestSeen_grainNoise(t *testing.T) {
	thin := Seen{ThicknessMM: 1, Texture: Texture{Contrast: 1, Fineness: 0.5}}
	if got := thin.GrainNoise(59); math.Abs(got-5) > 1e-9 {
		t.Errorf("%g, want 5", got)
	}
	thick := thin
	thick.ThicknessMM = 16 * ContrastMM
	if got := thick.GrainNoise(59); math.Abs(got-1.25) > 1e-9 {
		t.Errorf("sixteen grains thick: %g, want a quarter", got)
	}
	if got := (&Seen{ThicknessMM: 5}).GrainNoise(59); got != 0 {
		t.Errorf("%g where no grain is seen, want 0", got)
	}
}

// Sulphide darkens what it coats: what is lighter than the substrate is hardly black, and on dark substrate what
// hardly differs is not.
func TestShown_darkens(t *testing.T) {
	sand, soil := &shown{Lab: Lab{60, 5, 20}}, &shown{Lab: Lab{25, 1, 3}}
	for _, c := range []struct {
		native *shown
		lab    Lab
		least  float64
		most   float64
	}{
		{sand, Lab{25, 1, 3}, 0.99, 1},
		{soil, Lab{36, 0, 2}, 0, 0.01},
		{soil, Lab{24, 1, 2}, besideDarkLeft, besideDarkLeft},
		{soil, Lab{12, 0, 0}, 0.99, 1},
	} {
		if got := c.native.darkens(c.lab); got < c.least || got > c.most {
			t.Errorf("%v beside %v: %g, want %g to %g", c.lab, c.native.Lab, got, c.least, c.most)
		}
	}
}
