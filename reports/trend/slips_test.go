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
