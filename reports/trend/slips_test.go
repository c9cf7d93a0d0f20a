package trend

import (
	"math"
	"testing"
)

// lone is a tank with one station that has been read for two and a half years.
var lone = world{stations: 1, visits: 30, every: 1, level: 25, rate: 1.2, noise: 0.9}

// TestNew_slipOfTen: a comma in the wrong place, anywhere in a record, is told and hardly moves what the rest
// says.
func TestNew_slipOfTen(t *testing.T) {
	for _, c := range []struct {
		name  string
		world world
	}{{"three stations", usual}, {"a lone station", lone}} {
		for seed := range uint64(8) {
			r := c.world.record(dice(seed))
			level, rate := New(r).mean()
			for i := range r.Readings {
				for _, factor := range []float64{10, 0.1} {
					slipped := r.copied()
					slipped.Readings[i].Y *= factor
					f := New(slipped)
					otherLevel, otherRate := f.mean()
					if f.Sound[i] > 0.05 || math.Abs(otherLevel-level) > 1 || math.Abs(otherRate-rate) > 0.3 {
						t.Errorf("%s, seed %d, reading %d times %g: sound with %.3f, level %.2f instead of %.2f, rate %.2f instead of %.2f",
							c.name, seed, i, factor, f.Sound[i], otherLevel, level, otherRate, rate)
					}
				}
			}
		}
	}
}

// TestNew_soundOnes: of records without slips, hardly any reading is taken for one.
func TestNew_soundOnes(t *testing.T) {
	var doubted, count float64
	for seed := range uint64(100) {
		for _, sound := range New(usual.record(dice(seed))).Sound {
			if count++; sound < 0.5 {
				doubted++
			}
		}
	}
	if share := doubted / count; share > 0.005 {
		t.Errorf("%.2f %% of sound readings count as slips", 100*share)
	}
}

// TestNew_soundByBayes: of small records, with a reading some way off, the probability that each is sound is
// near that over all choices of slips.
func TestNew_soundByBayes(t *testing.T) {
	small := usual
	small.stations, small.visits = 2, 4
	const seeds = 30
	var off, count float64
	for seed := range uint64(seeds) {
		rng := dice(seed)
		r := small.record(rng)
		r.Readings[rng.IntN(len(r.Readings))].Y += 3.5 + 3*rng.Float64()
		f := New(r)
		for i, exact := range f.soundByBayes() {
			if off, count = off+math.Abs(f.Sound[i]-exact), count+1; math.Abs(f.Sound[i]-exact) > 0.25 {
				t.Errorf("seed %d, reading %d: sound with %.3f, want %.3f", seed, i, f.Sound[i], exact)
			}
		}
	}
	if off/count > 0.0045 {
		t.Errorf("probabilities are off by %.4f on average", off/count)
	}
}

// soundByBayes are the probabilities that readings are sound, by trying every choice of slips.
func (f *Fit) soundByBayes() []float64 {
	w := f.weighing
	sound := make([]float64, len(w.record.Readings))
	var all float64
	for slips := range 1 << len(sound) {
		likelihood := math.Exp(f.choice(slips, State{Drift: flexible}, nil))
		all += likelihood
		for i := range sound {
			if slips>>i&1 == 0 {
				sound[i] += likelihood
			}
		}
	}
	for i := range sound {
		sound[i] /= all
	}
	return sound
}

// TestNew_photoError: what a photo's edge strays by is known, and hardly laid to the bed. A part of it is, since a
// reading that strays less than its edge is not set off against one that strays more.
func TestNew_photoError(t *testing.T) {
	const seeds, edge = 50, 2.0
	blurred := usual
	blurred.noise = math.Hypot(usual.noise, edge)
	var sum float64
	for seed := range uint64(seeds) {
		r := blurred.record(dice(seed))
		for i := range r.Readings {
			r.Readings[i].Error = edge
		}
		sum += New(r).Error / seeds
	}
	if sum < usual.noise-0.2 || sum > usual.noise+0.7 {
		t.Errorf("readings stray by %.2f mm beside their edges, want about %.2f", sum, usual.noise)
	}
}
