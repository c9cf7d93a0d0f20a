package trend

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// byQuadrature is how likely values are about a mean that could be anything, summed up in small steps.
func byQuadrature(variance float64, values, noise []float64) (sum float64) {
	const reach, step = 60.0, 0.01 // mm
	for mean := -reach; mean <= reach; mean += step {
		product := step
		for i, x := range values {
			v := variance + noise[i]
			product *= math.Exp(-(x-mean)*(x-mean)/2/v) / math.Sqrt(2*math.Pi*v)
		}
		sum += product
	}
	return sum
}

// TestLogApart holds the formula against the sum, but for a constant.
func TestLogApart(t *testing.T) {
	values, noise := []float64{1.2, -0.7, 3.1, 0.4}, []float64{0.3, 0.5, 0.4, 2}
	constant := math.Log(byQuadrature(1, values, noise)) - logApart(1, values, noise)
	for _, variance := range []float64{0, 0.01, 0.3, 2, 9, 80} {
		if got, want := logApart(variance, values, noise)+constant, math.Log(byQuadrature(variance, values, noise)); !alike(got, want, 1e-6) {
			t.Errorf("variance %g: %.8g, want %.8g", variance, got, want)
		}
	}
	if logApart(4, []float64{7}, []float64{1}) != 0 || logApart(4, nil, nil) != 0 {
		t.Error("fewer than two stations show how far they stand apart")
	}
}

// TestSpreadOf holds the weights against Bayes's rule worked out by the sum.
func TestSpreadOf(t *testing.T) {
	values, noise := []float64{1.2, -0.7, 3.1}, []float64{0.3, 0.5, 0.4}
	got := spreadOf(usualSpread{middle: 2, alike: 0.3}, values, noise)
	var weights []float64
	var all, posterior float64
	for k := -8; k <= 4; k++ {
		z := 0.45 * float64(k)
		weight := math.Exp(-z * z / 2 / 9)
		all += weight
		weights = append(weights, 0.7*weight)
	}
	weights = append(weights, 0.3*all)
	for k := range weights {
		deviation := 0.0
		if k <= 12 {
			deviation = 2 * math.Exp(0.45*float64(k-8))
		}
		if !alike(got.deviations[k], deviation, 1e-12) {
			t.Errorf("deviation %g, want %g", got.deviations[k], deviation)
		}
		weights[k] *= byQuadrature(deviation*deviation, values, noise)
		posterior += weights[k]
	}
	var sum float64
	for k, weight := range weights {
		if sum += weight / posterior; !alike(got.cumulative[k], sum, 1e-6) {
			t.Errorf("up to a deviation of %g: %.7f, want %.7f", got.deviations[k], got.cumulative[k], sum)
		}
	}
}

// square is the mean square of a spread's deviations.
func (s *spread) square() (sum float64) {
	before := 0.0
	for k, c := range s.cumulative {
		sum += (c - before) * s.deviations[k] * s.deviations[k]
		before = c
	}
	return sum
}

// TestSpreadOf_further: stations that stand further apart say that the floor does so too.
func TestSpreadOf_further(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-5, 5), 2, 6).Draw(t, "values")
		noise := make([]float64, len(values))
		equal := rapid.Float64Range(0.01, 9).Draw(t, "noise")
		for i := range noise {
			noise[i] = equal
		}
		usual := usualSpread{rapid.Float64Range(0.1, 6).Draw(t, "middle"), rapid.Float64Range(0, 0.9).Draw(t, "alike")}
		factor := 1 + rapid.Float64Range(0, 5).Draw(t, "factor")
		further := make([]float64, len(values))
		for i, x := range values {
			further[i] = factor * x
		}
		near, far := spreadOf(usual, values, noise), spreadOf(usual, further, noise)
		if far.square() < near.square()*(1-1e-9) {
			t.Fatalf("mean square %g; %g times further apart %g", near.square(), factor, far.square())
		}
	})
}

// TestSpreadOf_alone: one station shows nothing of the others, so what is usual stays.
func TestSpreadOf_alone(t *testing.T) {
	usual := usualSpread{middle: 3, alike: 0.2}
	near, far := spreadOf(usual, []float64{0}, []float64{0.1}), spreadOf(usual, []float64{90}, []float64{5})
	for k := range near.cumulative {
		if near.cumulative[k] != far.cumulative[k] {
			t.Fatalf("%v, then %v", near.cumulative, far.cumulative)
		}
	}
	var below float64
	var all []float64
	for k := -8; k <= 4; k++ {
		z := 0.45 * float64(k) / 0.6
		below += math.Exp(-z * z / 2)
		all = append(all, below)
	}
	for k, share := range all {
		if !alike(near.cumulative[k], 0.8*share/below, 1e-12) {
			t.Errorf("up to a deviation of %g: %g, want %g", near.deviations[k], near.cumulative[k], 0.8*share/below)
		}
	}
	if last := len(near.cumulative); !alike(near.cumulative[last-2], 0.8, 1e-12) {
		t.Errorf("alike with a probability of %g, want 0.2", 1-near.cumulative[last-2])
	}
}

// TestDiffer: stations with one rate are said to differ in about one of twenty tanks, those with rates far
// apart always.
func TestDiffer(t *testing.T) {
	const tanks = 400
	one, apart := usual, usual
	one.ratesApart, apart.ratesApart = 0, 1.5
	var falsely, truly int
	for seed := range uint64(tanks) {
		if New(one.record(dice(seed))).Differ {
			falsely++
		}
		if New(apart.record(dice(seed))).Differ {
			truly++
		}
	}
	if falsely > tanks/10 || truly < tanks*19/20 {
		t.Errorf("of %d tanks %d with one rate differ, and %d with rates far apart", tanks, falsely, truly)
	}
}

// TestSpread_draw: the mean of several stations stands nearer to the floor's than one does, by the root of
// their number.
func TestSpread_draw(t *testing.T) {
	s := spread{deviations: []float64{1, 2, 8, 0}, cumulative: []float64{0.25, 0.5, 0.75, 1}, stations: 4}
	for u, want := range map[float64]float64{0: 0.5, 0.25: 0.5, 0.3: 1, 0.6: 4, 0.8: 0, 1: 0} {
		if got := s.draw(u); got != want {
			t.Errorf("at %g: %g, want %g", u, got, want)
		}
	}
}
