package palette

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
	"pgregory.net/rapid"
)

// bed is a simulated bed: what each layer is, and how it is seen.
type bed struct {
	bands  []Band
	native []Baseline
	column Column
}

// Colours are drawn about the prototypes with the spread counted over the soil
// descriptions (4.5 of the palette's wider 5.5), and seen with the noise that is
// left after a white balance (assumption); root-mean-square CIEDE2000.
const (
	countedShare = 4.5 / 5.5
	balanced     = 3.0
)

// drawBed draws a column from the palette's own order and thicknesses, so the
// test shows the best case: beds that keep to the model. Sand is commoner than
// clay and dark soil (assumption). The unsoftened order is the truth here.
func drawBed(rng *rand.Rand) bed {
	var b bed
	kinds := [...]string{"sand", "sand", "sand", "sand", "sand", "sand", "sand", "clay", "dark-soil", "dark-soil"}
	native := drawAbout(rng, pick(rng, Native, kinds[rng.IntN(len(kinds))]), countedShare)
	b.native = []Baseline{{"own", native}}
	for at := atTop; ; {
		at = drawStep(rng, at)
		band := stepBand[at]
		usual := bands[band].usual
		mm := max(1, math.Round(usual.medianMM*math.Exp(usual.spread*rng.NormFloat64())))
		color := drawAbout(rng, Prototype{Color: native, Spread: ownSpread}, 1)
		if band != Native {
			color = drawAbout(rng, pick(rng, band, ""), countedShare)
		}
		seen := drawAbout(rng, Prototype{Color: color, Spread: balanced}, 1)
		b.bands = append(b.bands, band)
		b.column.Layers = append(b.column.Layers, Seen{Lab: seen.Lab(), ThicknessMM: mm, Doubt: balanced})
		floor := len(b.bands) >= 3 && band == Native && rng.Float64() < 0.8
		if floor || len(b.bands) == 7 {
			return b
		}
	}
}

var unsoftened = shared()

func drawStep(rng *rand.Rand, above int) int {
	u := rng.Float64()
	for _, b := range stepBands {
		if u -= unsoftened[above][b]; u < 0 && b != Unknown {
			return int(b)
		}
	}
	return int(Native)
}

func pick(rng *rand.Rand, band Band, kind string) Prototype {
	var list []Prototype
	for _, p := range prototypes {
		if p.Band == band && p.Kind == kind {
			list = append(list, p)
		}
	}
	return list[rng.IntN(len(list))]
}

// drawAbout moves a prototype's colour in a random direction by a normal
// distance whose root mean square is share of its spread.
func drawAbout(rng *rand.Rand, p Prototype, share float64) Color {
	from := p.Color.Lab()
	x, y, z := rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()
	want := share * p.Spread / math.Sqrt(3) * math.Sqrt(x*x+y*y+z*z)
	length := want
	var to Lab
	for range 8 { // the scale of L*a*b* against CIEDE2000 is found by trial
		to = Lab{from.L + length*x, from.A + length*y, from.B + length*z}
		length *= want / Difference(from, to)
	}
	r, g, blue := colorful.Lab(to.L/100, to.A/100, to.B/100).Clamped().RGB255()
	return Color{r, g, blue}
}

// TestMatch_simulatedBeds names columns whose truth is known: at least 90 % right
// with white-balanced colours and the order, 95 % with a baseline; and of the
// names given 0.8 to 0.9, 75 to 95 % must be right.
func TestMatch_simulatedBeds(t *testing.T) {
	for _, c := range []struct {
		name     string
		baseline bool
		want     float64
	}{
		{"order", false, 0.90},
		{"order and baseline", true, 0.95},
	} {
		t.Run(c.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(20261125, 2))
			var right, alone, all int
			var named, hits [10]int
			for range 2000 {
				b := drawBed(rng)
				m := NewMatcher(nil, nil)
				if c.baseline {
					m = NewMatcher(b.native, nil)
				}
				match, names := m.Match(b.column), m.Names(b.column)
				for i, band := range b.bands {
					all++
					if m.Meanings(b.column.Layers[i].Lab, balanced)[0].Band == band {
						alone++
					}
					tenth := min(9, int(10*match.Probability(i, names[i])))
					named[tenth]++
					if names[i] == band {
						right++
						hits[tenth]++
					}
				}
			}
			share := float64(right) / float64(all)
			t.Logf("%d layers: colour alone %.1f %% right, with %s %.1f %%", all, percent(alone, all), c.name, 100*share)
			for tenth := 4; tenth < 10; tenth++ {
				t.Logf("  said %.1f to %.1f: %5d layers, %.1f %% right", float64(tenth)/10, float64(tenth+1)/10, named[tenth], percent(hits[tenth], named[tenth]))
			}
			if share < c.want {
				t.Errorf("%.1f %% named right, want %.0f %%", 100*share, 100*c.want)
			}
			if p := percent(hits[8], named[8]); p < 75 || p > 95 {
				t.Errorf("of the names said with 0.8 to 0.9 %.1f %% are right, want 75 to 95 %%", p)
			}
		})
	}
}

func percent(part, whole int) float64 { return 100 * float64(part) / float64(whole) }

// anyColumn is any column at all, some of its layers labelled.
func anyColumn(t *rapid.T) Column {
	n := rapid.IntRange(1, 8).Draw(t, "layers")
	column := Column{Unlit: rapid.Bool().Draw(t, "unlit")}
	for range n {
		column.Layers = append(column.Layers, Seen{
			Lab:         anyColor(t, "color").Lab(),
			ThicknessMM: rapid.Float64Range(0.1, 2000).Draw(t, "mm"),
			Doubt:       rapid.SampledFrom([]float64{2, DoubtCard, DoubtTyped, 8}).Draw(t, "doubt"),
			Label:       Band(rapid.IntRange(int(NoBand), int(Unknown)).Draw(t, "label")),
		})
	}
	return column
}

// Of any column, typed or of a photo: probabilities add up, no band is likelier than the name, labels
// hold, and what is sampled is possible.
func TestMatch_anyColumn(t *testing.T) {
	m := NewMatcher([]Baseline{{"sand", Color{0xd9, 0xcb, 0xa6}}}, nil)
	rapid.Check(t, func(t *rapid.T) {
		column := anyColumn(t)
		column.Light = rapid.SampledFrom([]Light{{}, {EV: 0.3}, {EVDoubt: 0.5, Veil: 0.01, VeilDoubt: 0.01}}).Draw(t, "light")
		match := m.Match(column)
		names := match.Names()
		path := make([]Band, len(names))
		match.Sample(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0)), path)
		for i, seen := range column.Layers {
			var sum float64
			for _, b := range Bands() {
				p := match.Probability(i, b)
				if p > match.Probability(i, names[i]) {
					t.Fatalf("layer %d: named %v with %v, %v is likelier with %v", i, names[i], match.Probability(i, names[i]), b, p)
				}
				sum += p
			}
			if math.Abs(sum-1) > 1e-9 {
				t.Fatalf("layer %d: probabilities add up to %v", i, sum)
			}
			if match.Probability(i, path[i]) <= 0 {
				t.Fatalf("layer %d: drew %v, which has no probability", i, path[i])
			}
			if seen.Label != NoBand && (names[i] != seen.Label || path[i] != seen.Label) {
				t.Fatalf("layer %d: labelled %v, named %v, drawn %v", i, seen.Label, names[i], path[i])
			}
		}
	})
}

// TestSample_followsProbabilities holds the sampled paths against the smoothed
// probabilities: two ways to the same number.
func TestSample_followsProbabilities(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	const draws = 20000
	for range 20 {
		b := drawBed(rng)
		match := NewMatcher(nil, nil).Match(b.column)
		count := make([][Unknown + 1]int, len(b.bands))
		path := make([]Band, len(b.bands))
		for range draws {
			match.Sample(rng, path)
			for i, band := range path {
				count[i][band]++
			}
		}
		for i := range count {
			for _, band := range Bands() {
				got, want := float64(count[i][band])/draws, match.Probability(i, band)
				if math.Abs(got-want) > 0.02 { // over five standard errors
					t.Errorf("layer %d %v: drawn %.3f, smoothed %.3f", i, band, got, want)
				}
			}
		}
	}
}

func TestMatch_darkNativeIsNotBlack(t *testing.T) {
	soil := Color{0x37, 0x30, 0x29}
	column := func(c Color) Column {
		return Column{Layers: []Seen{
			{Lab: Color{0x7c, 0x59, 0x3a}.Lab(), ThicknessMM: 15, Doubt: DoubtTyped},
			{Lab: Color{0xae, 0x69, 0x31}.Lab(), ThicknessMM: 4, Doubt: DoubtTyped},
			{Lab: c.Lab(), ThicknessMM: 20, Doubt: DoubtTyped},
			{Lab: soil.Lab(), ThicknessMM: 40, Doubt: DoubtTyped},
		}}
	}
	with := NewMatcher([]Baseline{{"soil", soil}}, nil)
	if got := with.Match(column(soil)).Probability(2, Black); got > 0.05 {
		t.Errorf("dark soil in its own colour is black with %.2f, want at most 0.05", got)
	}
	sulphide := Color{0x30, 0x33, 0x35}
	if d := Difference(sulphide.Lab(), soil.Lab()); d < reducedDifference {
		t.Fatalf("the sulphide of this test is only %.1f from the soil", d)
	}
	if got := with.Names(column(sulphide))[2]; got != Black {
		t.Errorf("blue-black over brown-black soil is named %v, want black", got)
	}
	if got := NewMatcher(nil, nil).Match(column(soil)); got.Probability(2, Black) < 0.1 || got.Probability(2, Native) < 0.1 {
		t.Errorf("without a baseline a dark layer is black with %.2f and native with %.2f, want doubt", got.Probability(2, Black), got.Probability(2, Native))
	}
}

func TestMatch_filmIsNoStep(t *testing.T) {
	film := Seen{Lab: Color{0x4f, 0x7a, 0x3a}.Lab(), ThicknessMM: 6, Doubt: DoubtTyped}
	rust := Seen{Lab: Color{0xae, 0x69, 0x31}.Lab(), ThicknessMM: 5, Doubt: DoubtTyped}
	black := Seen{Lab: Color{0x3c, 0x3c, 0x3c}.Lab(), ThicknessMM: 30, Doubt: DoubtTyped}
	bare := NewMatcher(nil, nil).Match(Column{Layers: []Seen{rust, black}})
	column := Column{Layers: []Seen{film, rust, film, black}}
	filmed := NewMatcher(nil, nil).Match(column)
	if names := NewMatcher(nil, nil).Names(column); names[0] != FilmGreen || names[2] != FilmGreen {
		t.Fatalf("green layers are named %v and %v", names[0], names[2])
	}
	if got, want := filmed.Probability(3, Black), bare.Probability(1, Black); math.Abs(got-want) > 0.02 {
		t.Errorf("black below rust has %.3f, with a film between them %.3f", want, got)
	}
	unlit := NewMatcher(nil, nil).Match(Column{Unlit: true, Layers: []Seen{film, rust, film, black}})
	if unlit.Probability(0, FilmGreen) > filmed.Probability(0, FilmGreen) {
		t.Errorf("algae are likelier without light (%.3f) than with it (%.3f)", unlit.Probability(0, FilmGreen), filmed.Probability(0, FilmGreen))
	}
}

func BenchmarkMatch(b *testing.B) {
	rng := rand.New(rand.NewPCG(3, 3))
	var columns [64]Column
	for i := range columns {
		columns[i] = drawBed(rng).column
	}
	m := NewMatcher([]Baseline{{"sand", Color{0xd9, 0xcb, 0xa6}}}, nil)
	b.ReportAllocs()
	for i := range b.N {
		sink += m.Match(columns[i%len(columns)]).Probability(0, Native)
	}
}
