package palette

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// photographed is a simulated bed as a photo under some light shows it: every colour
// darkened by ev stops and veiled by stray light.
func photographed(b bed, ev, veil float64) Column {
	column := b.column
	column.Layers = slices.Clone(column.Layers)
	for i := range column.Layers {
		light := column.Layers[i].Lab.Linear()
		for c := range light {
			light[c] = light[c]*math.Exp2(-ev) + veil
		}
		column.Layers[i].Lab = light.Lab()
	}
	return column
}

// pathEvidence is the likelihood of a column by adding up every path down it.
func pathEvidence(layers []weights, order *order, at int) float64 {
	if len(layers) == 0 {
		return atFloor[at]
	}
	sum := layers[0].overlay() * pathEvidence(layers[1:], order, at)
	for _, to := range wayDown {
		if w := layers[0].step(order, at, to); w > 0 {
			sum += w * pathEvidence(layers[1:], order, to)
		}
	}
	return sum
}

// Evidence is what comes of adding up all paths under all states of the light.
func TestEvidence_everyPath(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1))
	m := NewMatcher(nil, nil)
	for range 20 {
		b := drawBed(rng)
		column := photographed(b, 0.4, 0.01)
		column.Layers = column.Layers[:min(4, len(column.Layers))]
		column.Light = Light{EVDoubt: 0.5, Veil: 0.01, VeilDoubt: 0.01}
		var sum float64
		for _, v := range column.views() {
			all, in := make([]weights, len(column.Layers)), m.in(v)
			for i := range all {
				all[i] = in.weighLayer(&column.Layers[i], i == 0, column.Unlit, v, i == v.layer)
			}
			sum += v.prior * pathEvidence(all, &asCut, atTop)
		}
		// States of next to no evidence are dropped.
		if got, want := m.Match(column).Evidence(), math.Log(sum); math.Abs(got-want) > 0.01 {
			t.Errorf("evidence %.4f, by every path %.4f", got, want)
		}
	}
}

func TestLightStates_priors(t *testing.T) {
	light := Light{EV: -0.3, EVDoubt: 0.6, Veil: 0.01, VeilDoubt: 0.015}
	var sum, ev, evSquare, veil float64
	for _, l := range light.states() {
		sum += l.prior
		ev += l.prior * l.ev
		evSquare += l.prior * (l.ev + 0.3) * (l.ev + 0.3)
		veil += l.prior * l.veil
	}
	if math.Abs(sum-1) > 1e-12 || math.Abs(ev+0.3) > 1e-12 || math.Abs(veil-0.01) > 1e-12 {
		t.Errorf("shares add up to %v, means %v stops and %v", sum, ev, veil)
	}
	if sd := math.Sqrt(evSquare); math.Abs(sd-0.6) > 0.02 { // tails beyond three are cut off
		t.Errorf("standard deviation %.3f stops, want 0.6", sd)
	}
}

// otherLayers counts the layers in which two matches differ in the name or by more than tolerance in
// a probability.
func otherLayers(got, want *Match, tolerance float64) (n int) {
	names := got.Names()
	for i, name := range want.Names() {
		if names[i] != name || slices.ContainsFunc(Bands(), func(b Band) bool {
			return math.Abs(got.Probability(i, b)-want.Probability(i, b)) > tolerance
		}) {
			n++
		}
	}
	return n
}

// pathShare is the probability of a band at a layer by adding up every path that has it there.
func pathShare(layers []weights, order *order, at int, b Band) float64 {
	held := slices.Clone(layers)
	held[at] = weights{}
	held[at][b] = layers[at][b]
	return pathEvidence(held, order, atTop) / pathEvidence(layers, order, atTop)
}

// Light that is known leaves one state, in which probabilities are those of every path down the
// colours as they are.
func TestMatch_knownLight(t *testing.T) {
	native := []Baseline{{"sand", Color{0xd9, 0xcb, 0xa6}}}
	rapid.Check(t, func(t *rapid.T) {
		column := anyColumn(t)
		column.Layers = column.Layers[:min(4, len(column.Layers))]
		for _, m := range []*Matcher{NewMatcher(nil, nil), NewMatcher(native, nil)} {
			match := m.Match(column)
			if len(match.chains) != 1 || match.chains[0].share != 1 || match.Light() != (Light{}) {
				t.Fatalf("%d states, light %v, want one and none", len(match.chains), match.Light())
			}
			all := make([]weights, len(column.Layers))
			for i := range all {
				all[i] = m.weighLayer(&column.Layers[i], i == 0, column.Unlit, view{lightState: lightState{gain: 1}, all: true}, false)
			}
			for i := range all {
				for _, b := range Bands() {
					if got, want := match.Probability(i, b), pathShare(all, &asTyped, i, b); math.Abs(got-want) > 1e-9 {
						t.Fatalf("layer %d is %v with %.12f, by every path %.12f", i, b, got, want)
					}
				}
			}
		}
	})
}

// An exposure that is told exactly does what adding it to the colours by hand does.
func TestMatch_exposureTold(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 2))
	m := NewMatcher(nil, nil)
	for range 50 {
		b := drawBed(rng)
		ev := 2*rng.Float64() - 1
		column := photographed(b, ev, 0.01)
		column.Light = Light{EV: ev, Veil: 0.01}
		byHand := column
		byHand.Light = Light{}
		byHand.Layers = slices.Clone(column.Layers)
		for i, l := range column.Layers {
			byHand.Layers[i].Lab = column.Light.Relight(l.Lab)
		}
		if n := otherLayers(m.Match(column), m.Match(byHand), 1e-9); n > 0 {
			t.Errorf("%d of %d layers differ", n, len(b.bands))
		}
	}
}

// A photo's own exposure is found from the order of its bands and the native colour, though the bed may lie in
// its grains' shade.
func TestMatch_exposureFound(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 3))
	const photos = 300
	var off, told []float64
	right, plain, all := 0, 0, 0
	for range photos {
		b := drawBed(rng)
		ev := 0.6 * rng.NormFloat64()
		column := photographed(b, ev, 0)
		m := NewMatcher(b.native, nil)
		plainNames := m.Names(column)
		column.Light = Light{EVDoubt: 0.6}
		match := m.Match(column)
		for i, name := range match.Names() {
			all++
			if name == b.bands[i] {
				right++
			}
			if plainNames[i] == b.bands[i] {
				plain++
			}
		}
		off = append(off, math.Abs(match.Light().EV-ev))
		told = append(told, match.Light().EVDoubt)
	}
	slices.Sort(off)
	slices.Sort(told)
	t.Logf("exposure off by %.2f stops in the median, said to be doubtful by %.2f; %.1f %% of the names right, %.1f %% by the colours as they are",
		off[photos/2], told[photos/2], percent(right, all), percent(plain, all))
	if off[photos/2] > 0.3 {
		t.Errorf("exposure is off by %.2f stops in the median, want 0.3", off[photos/2])
	}
	if percent(right, all) < 86 || right <= plain {
		t.Errorf("%.1f %% of the names are right, %.1f %% by the colours as they are", percent(right, all), percent(plain, all))
	}
}

// stored is a column as it is kept once its light was solved for: colours under the
// solved light, and what is left in doubt about it.
func stored(column Column, solved Light) Column {
	gain := math.Exp2(solved.EV)
	out := column
	out.Layers = slices.Clone(column.Layers)
	for i, l := range out.Layers {
		out.Layers[i].Lab = solved.Relight(l.Lab)
	}
	out.Light = Light{
		EV: column.Light.EV - solved.EV, EVDoubt: column.Light.EVDoubt,
		Veil: (column.Light.Veil - solved.Veil) * gain, VeilDoubt: column.Light.VeilDoubt * gain,
	}
	return out
}

// Colours kept under the light that was solved for, with what is left of its doubt, match as
// the photo's own did: to the last digits where stray light leaves something of every channel, and
// nearly so with the blackest mud, where the least that it may leave is set anew. There one bed in
// fifty may differ.
func TestMatch_stored(t *testing.T) {
	for _, test := range []struct {
		name            string
		veil, tolerance float64
		different       int // beds of a hundred
		light           Light
	}{
		{"veiled", 0.06, 1e-6, 0, Light{EVDoubt: 0.6, Veil: 0.03, VeilDoubt: 0.012}},
		{"as photos are", 0.01, 0.02, 2, Light{EV: 0.2, EVDoubt: 0.5, Veil: 0.01, VeilDoubt: 0.015}},
	} {
		t.Run(test.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(9, 4))
			different := 0
			for range 100 {
				b := drawBed(rng)
				column := photographed(b, 0.5*rng.NormFloat64(), test.veil)
				column.Light = test.light
				same := true
				for _, m := range []*Matcher{NewMatcher(nil, nil), NewMatcher(b.native, nil)} {
					match := m.Match(column)
					again := m.Match(stored(column, match.Light()))
					left := again.Light() // over after it was solved for
					same = same && otherLayers(again, match, test.tolerance) == 0 && math.Abs(left.EV) <= 3*test.tolerance && math.Abs(left.Veil) <= test.tolerance
				}
				if !same {
					different++
				}
			}
			if different > test.different {
				t.Errorf("%d beds in a hundred differ, want at most %d", different, test.different)
			}
		})
	}
}
