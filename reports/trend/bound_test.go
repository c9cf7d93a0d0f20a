package trend

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestBound_isFromBelow: for a few readings the likelihood can be had by trying every choice of slips, each by
// the independent filter. The bound is never above it.
func TestBound_isFromBelow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRecord(t, 6)
		f := New(r)
		var turn *Turn
		if rapid.Bool().Draw(t, "turns") {
			turn = &Turn{
				At:     rapid.Float64Range(r.begin(), r.now()+0.1).Draw(t, "at"),
				Step:   rapid.Bool().Draw(t, "step"),
				Mean:   rapid.Float64Range(-12, 12).Draw(t, "mean"),
				Spread: rapid.Float64Range(0.5, 9).Draw(t, "spread"),
			}
		}
		exact := f.everyChoice(turn)
		if got := f.Bound(turn) - f.constant(); got > exact+1e-6 {
			t.Fatalf("bound %.9g above the likelihood %.9g", got, exact)
		}
	})
}

// TestBound_isNear: of small records as tanks have them the bound falls short by little, with a slip among
// them too, so that the differences between bounds that it is there for are right to about as much.
func TestBound_isNear(t *testing.T) {
	small := usual
	small.stations, small.visits = 2, 4
	for seed := range uint64(20) {
		rng := dice(seed)
		r := small.record(rng)
		if seed%2 == 1 {
			r.Readings[rng.IntN(len(r.Readings))].Y *= 10
		}
		f := New(r)
		for _, turn := range []*Turn{nil, {At: 3.2, Mean: -6, Spread: 4}, {At: 3.2, Step: true, Mean: -10, Spread: 8}} {
			if short := f.everyChoice(turn) - (f.Bound(turn) - f.constant()); short > 0.1 {
				t.Errorf("seed %d, %+v: the bound falls short by %.3f", seed, turn, short)
			}
		}
	}
}

// everyChoice is the logarithm of the likelihood over all choices of slips.
func (f *Fit) everyChoice(turn *Turn) float64 {
	way := f.likeliest
	way.Drift = min(mostDrift, way.Drift)
	likeliest, all := math.Inf(-1), 0.0
	var logs []float64
	for slips := range 1 << len(f.Sound) {
		log := f.choice(slips, way, turn)
		logs, likeliest = append(logs, log), max(likeliest, log)
	}
	for _, log := range logs {
		all += math.Exp(log - likeliest)
	}
	return likeliest + math.Log(all)
}

// choice is the logarithm of the likelihood with one choice of slips, a bit for each reading.
func (f *Fit) choice(slips int, way State, turn *Turn) (log float64) {
	w := f.weighing
	variances := make([]float64, len(w.record.Readings))
	for i, r := range w.record.Readings {
		variances[i] = f.Error*f.Error + r.Error*r.Error
		if slip := max(usualSlip, r.Slip); slips>>i&1 == 1 {
			variances[i] = math.Inf(1)
			log += math.Log(slip / slipRange)
		} else {
			log += math.Log(1 - slip)
		}
	}
	return log + filterOf(w.record, variances, w.prior, w.middle, way, turn, nil).log
}

// constant is by how much Bound is above the true bound, whatever the turn: it leaves out what is thought of
// the stations.
func (f *Fit) constant() (log float64) {
	for _, removals := range f.weighing.removals {
		log += math.Log(f.weighing.prior.offset) + math.Log(f.weighing.prior.rate) + float64(len(removals))*math.Log(f.weighing.prior.taken)
	}
	return log
}
