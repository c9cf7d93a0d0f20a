package palette

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Worked by hand: an exposure open by 0.6 stops has a variance of 0.36, half of which, 0.18, is new each time. A photo
// whose names put it at 0.45 ± 0.19 (variance 0.036) has seen 0.5 with a variance of 1/(1/0.036 - 1/0.36) = 0.04.
func TestNewOffset_worked(t *testing.T) {
	got, told := NewOffset(Light{EV: 0.1, EVDoubt: 0.6}, Light{EV: 0.55, EVDoubt: math.Sqrt(0.036)})
	if !told {
		t.Fatal("nothing told")
	}
	wantNear(t, "offset", got.EV, 0.5)
	wantNear(t, "doubt", got.Doubt, math.Sqrt(0.04+0.18))
}

func TestNewOffset_nothingTold(t *testing.T) {
	for name, lights := range map[string][2]Light{
		"no narrower":  {{EVDoubt: 0.6}, {EV: 0.1, EVDoubt: 0.6}},
		"wider":        {{EVDoubt: 0.6}, {EV: 0.1, EVDoubt: 0.7}},
		"was not open": {{}, {}},
	} {
		if got, told := NewOffset(lights[0], lights[1]); told {
			t.Errorf("%s: told %v", name, got)
		}
	}
}

// Worked by hand: three offsets of 0.5 with a variance of 0.22 each have a precision of 3/0.22 = 13.636 beside 1/0.18 =
// 5.556 for none. So 13.636/19.192 of 0.5 last, 0.3553, with a variance of 1/19.192 = 0.0521; to that comes 0.18 anew.
func TestLight_Taught_worked(t *testing.T) {
	by := slices.Repeat([]Offset{{0.5, math.Sqrt(0.22)}}, 3)
	got := Light{EV: -0.2, EVDoubt: 0.6, Veil: 0.01, VeilDoubt: 0.02}.Taught(by)
	wantNear(t, "exposure", got.EV, -0.2+0.3553)
	wantNear(t, "doubt", got.EVDoubt, math.Sqrt(0.18+0.0521))
	if got.Veil != 0.01 || got.VeilDoubt != 0.02 {
		t.Errorf("stray light became %v ± %v", got.Veil, got.VeilDoubt)
	}
	for name, same := range map[string]struct {
		light Light
		by    []Offset
	}{"by none": {Light{EV: 1, EVDoubt: 0.6}, nil}, "nothing open": {Light{}, by}} {
		if got := same.light.Taught(same.by); got != same.light {
			t.Errorf("%s: got %v, want %v", name, got, same.light)
		}
	}
}

func wantNear(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-4 {
		t.Errorf("%s: got %.5f, want %.5f", what, got, want)
	}
}

// labelled is a column with names for its first layers.
func labelled(c Column, names ...Band) Column {
	c.Layers = slices.Clone(c.Layers)
	for i, name := range names {
		c.Layers[i].Label = name
	}
	return c
}

// darkened is a column as a photo shows it that came out so many stops darker.
func darkened(c Column, stops float64) Column {
	darker := lightState{ev: -stops, gain: math.Exp2(-stops)}
	c.Layers = slices.Clone(c.Layers)
	for i := range c.Layers {
		c.Layers[i].Lab = darker.relight(c.Layers[i].Lab)
	}
	return c
}

// Three photos with named layers tell how dark a place comes out.
func TestMatch_lightOfThree(t *testing.T) {
	const stops = 0.5
	m := NewMatcher([]Baseline{{"sand", mustParse(t, "#a99a78")}}, nil)
	for _, names := range [][]Band{
		{MulmLight, Native, Rust, Black, Native}, {MulmLight}, {NoBand, NoBand, Rust},
	} {
		column := labelled(darkened(taught(t, "#a99a78"), stops), names...)
		column.Light.EVDoubt = 0.6
		offset, told := NewOffset(column.Light, m.Match(column).Light())
		if !told {
			t.Errorf("%v: told nothing", names)
			continue
		}
		lasting := Lasting([]Offset{offset, offset, offset}, column.Light.EVDoubt)
		if off := math.Abs(lasting.EV - stops); off > 1.645*lasting.Doubt {
			t.Errorf("%v: found %.2f ± %.2f stops, want %g", names, lasting.EV, lasting.Doubt, stops)
		}
	}
}

// A name tells of the light: that a layer is mulm, which by its colour may as well be rust in less light.
func TestMatch_nameTellsLight(t *testing.T) {
	m := NewMatcher(nil, nil)
	column := photo(t, struct {
		hex string
		mm  float64
	}{"#6b4a2b", 12})
	light := func(name Band) float64 { return m.Match(labelled(column, name)).Light().EV }
	if dark, pale := light(MulmDark), light(MulmLight); dark > pale-0.1 {
		t.Errorf("as dark mulm the light is put at %.2f, as light mulm at %.2f; want it less for the dark", dark, pale)
	}
}

// cinnamon is a bed under two sorts of mulm, with a grey layer in its sand, as a rendered photo showed it. The grain of
// the mulm is so smooth that it may be rust and its dark mulm is taken for grey.
func cinnamon(t *testing.T) Column {
	column := Column{Light: Light{EVDoubt: 0.48, Veil: 0.004, VeilDoubt: 0.018}}
	for _, l := range []struct {
		hex                string
		mm                 float64
		contrast, fineness float64
	}{{"#a9825d", 14.1, 0.17, 0.21}, {"#685b4b", 12.7, 0.16, 0.22}, {"#cdc7bb", 17.9, 0.18, 0.36}, {"#6d6e65", 7.9, 0.11, 0.41}, {"#ccc6bb", 12.2, 0.15, 0.31}} {
		column.Layers = append(column.Layers, Seen{Lab: mustParse(t, l.hex).Lab(), ThicknessMM: l.mm, Doubt: DoubtCard, Texture: Texture{l.contrast, l.fineness}})
	}
	return column
}

// What a keeper named is known again, in another light too, and what does not look like it keeps its name.
func TestMatch_known(t *testing.T) {
	native := []Baseline{{"sand", mustParse(t, "#dfd8c3")}}
	untaught := NewMatcher(native, nil)
	if got := untaught.Names(cinnamon(t))[1]; got != Grey {
		t.Fatalf("untaught, the dark mulm is %v; the test wants it to be taken for grey", got)
	}
	named := labelled(cinnamon(t), MulmLight, MulmDark)
	light := untaught.Match(named).Light()
	m := NewTaughtMatcher(native, nil, Lessons{Layers: []Learned{NewLearned(named.Layers[0], light), NewLearned(named.Layers[1], light)}})
	want := []Band{MulmLight, MulmDark, Native, Grey, Native}
	for _, stops := range []float64{-0.4, 0, 0.4} {
		if got := m.Names(darkened(cinnamon(t), stops)); !slices.Equal(got, want) {
			t.Errorf("%+.1f stops darker: named %v, want %v", stops, got, want)
		}
	}
	for _, hex := range []string{"#c58641", "#8c5136", "#a96c27", "#a16f3f"} {
		column := taught(t, "#cdc7bb")
		column.Layers[2].Lab = mustParse(t, hex).Lab()
		if got, was := m.Names(column), untaught.Names(column); !slices.Equal(got, was) || got[2] != Rust {
			t.Errorf("rust %s: named %v, was %v", hex, got, was)
		}
	}
	for _, meaning := range []*Matcher{untaught, m} {
		all := 0.0
		for _, other := range meaning.Meanings(mustParse(t, "#a9825d").Lab(), DoubtTyped) {
			all += other.Probability
		}
		wantNear(t, "all meanings of a colour", all, 1)
	}
}

// A substrate that was named in a photo is known as it looks, beside what was entered: a second one too.
func TestMatch_knownNative(t *testing.T) {
	native := []Baseline{{"sand", mustParse(t, "#d9cba6")}}
	column := taught(t, "#d9cba6")
	column.Layers[4].Lab = mustParse(t, "#8e5238").Lab() // clay that nobody entered
	named := labelled(column, NoBand, NoBand, NoBand, NoBand, Native)
	lesson := NewLearned(named.Layers[4], NewMatcher(native, nil).Match(named).Light())
	m := NewTaughtMatcher(native, nil, Lessons{Layers: []Learned{lesson}})
	if got, want := m.Names(column), []Band{MulmLight, Native, Rust, Black, Native}; !slices.Equal(got, want) {
		t.Errorf("named %v, want %v", got, want)
	}
}

// TestMatch_taughtBeds photographs drawn beds twice: the keeper names what was named wrong the first time. That names
// more of the second photo right, in other light and with other noise: half of the wrong names are gone, and next to
// none that was right is spoilt (4 % at most).
func TestMatch_taughtBeds(t *testing.T) {
	rng := rand.New(rand.NewPCG(20260501, 1))
	const beds, open = 300, 0.48
	var all, untaught, taught, hinted, spoilt int
	for range beds {
		b := drawBed(rng)
		lasting := math.Sqrt(lastingShare) * open * rng.NormFloat64()
		seen := func() Column {
			c := darkened(b.column, lasting+math.Sqrt(1-lastingShare)*open*rng.NormFloat64())
			c.Light = Light{EVDoubt: open}
			for i := range c.Layers {
				c.Layers[i].Lab.L += rng.NormFloat64()
				c.Layers[i].Lab.A += rng.NormFloat64()
				c.Layers[i].Lab.B += rng.NormFloat64()
			}
			return c
		}
		m := NewMatcher(b.native, nil)
		first := seen()
		wrong := false
		for i, name := range m.Names(first) {
			if name != b.bands[i] {
				first.Layers[i].Label, wrong = b.bands[i], true
			}
		}
		if !wrong {
			continue
		}
		light := m.Match(first).Light()
		var lessons Lessons
		if offset, told := NewOffset(first.Light, light); told {
			lessons.Light = []Offset{offset}
		}
		for _, l := range first.Layers {
			if l.Label != NoBand {
				lessons.Layers = append(lessons.Layers, NewLearned(l, light))
			}
		}
		second := seen()
		before, after := m.Names(second), NewTaughtMatcher(b.native, nil, lessons).Names(second)
		for i, band := range b.bands {
			all++
			hinted += one(first.Layers[i].Label != NoBand)
			untaught += one(before[i] == band)
			taught += one(after[i] == band)
			spoilt += one(before[i] == band && after[i] != band)
		}
	}
	t.Logf("%d layers, %d of them named before: %d right untaught, %d taught; %d spoilt", all, hinted, untaught, taught, spoilt)
	if all < 300 || 2*(all-taught) > all-untaught || 25*spoilt > all {
		t.Errorf("of %d layers, %d of them named before, %d are right untaught, %d taught, %d spoilt", all, hinted, untaught, taught, spoilt)
	}
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// An exposure known to less than a thousandth of a stop neither tells anything nor is told, however small its doubt.
func TestLessons_exposureKnown(t *testing.T) {
	for _, doubt := range []float64{0, math.SmallestNonzeroFloat64, 1e-162, 1e-9, leastOpen / 2} {
		if offset, told := NewOffset(Light{EVDoubt: doubt}, Light{}); told {
			t.Errorf("a doubt of %g told %v", doubt, offset)
		}
		l := Light{EV: 0.5, EVDoubt: doubt}
		if taught := l.Taught([]Offset{{EV: 1, Doubt: 0.1}}); taught != l {
			t.Errorf("with a doubt of %g taught %v, want %v", doubt, taught, l)
		}
	}
}
