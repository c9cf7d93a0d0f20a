package trend

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// exactly is how near two ways to compute the same may be apart, a share.
const exactly = 1e-6

// variances are those of a fit's readings: a reading that may be a slip counts for less.
func (f *Fit) variances() []float64 {
	out := make([]float64, len(f.Sound))
	for i, r := range f.weighing.record.Readings {
		out[i] = (f.Error*f.Error + r.Error*r.Error) / f.Sound[i]
	}
	return out
}

// asked are the tank's level and rate as sums of the filter's state.
func (f *filter) asked(r *Record) (level, rate *mat.VecDense) {
	level, rate = mat.NewVecDense(f.size(), nil), mat.NewVecDense(f.size(), nil)
	read := make([]bool, len(r.Current))
	for _, reading := range r.Readings {
		read[reading.Station] = true
	}
	var current, all float64
	for s := range read {
		if read[s] {
			all++
			rate.AddVec(rate, f.pace(s))
			if r.Current[s] {
				current++
				level.AddVec(level, f.sight(s, r.now()))
			}
		}
	}
	rate.ScaleVec(1/all, rate)
	if current > 0 {
		level.ScaleVec(1/current, level)
		return level, rate
	}
	level.SetVec(fLevel, 1) // the tank's course itself
	level.SetVec(fCos, math.Cos(math.Pi*r.now()/6))
	level.SetVec(fSin, math.Sin(math.Pi*r.now()/6))
	return level, rate
}

// TestNew_isWhatAKalmanFilterGives: once it is known how far readings stray and which are slips, levels,
// rates, their errors and their correlation, every past level of every station and the weights of
// the ways are those of an independent filter.
func TestNew_isWhatAKalmanFilterGives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRecord(t, 25)
		f := New(r)
		var first float64 // log of weight over likelihood, of the first way
		for i, s := range f.States {
			k := filterOf(r, f.variances(), f.weighing.prior, f.weighing.middle, s, nil, nil)
			level, rate := k.asked(r)
			levelError, rateError := math.Sqrt(k.shared(level, level)), math.Sqrt(k.shared(rate, rate))
			for _, c := range []struct {
				name      string
				got, want float64
			}{
				{"level", s.Level, k.value(level) + f.weighing.middle},
				{"rate", s.Rate, k.value(rate)},
				{"error of the level", s.levelError, levelError},
				{"error of the rate", s.rateError, rateError},
				{"correlation", s.together, k.shared(level, rate) / levelError / rateError},
			} {
				if !alike(c.got, c.want, exactly) {
					t.Fatalf("%s of %+v: %.9g, the filter says %.9g", c.name, s, c.got, c.want)
				}
			}
			base := math.Log(s.Weight) - k.log - math.Log(priorOf(s))
			if i == 0 {
				first = base
			}
			if !alike(base, first, exactly) {
				t.Fatalf("weights of %+v and the first way differ by %g beside their likelihoods", s, base-first)
			}
		}
		moments := make([]moment, 0, 2*len(r.Readings))
		for i, reading := range r.Readings {
			moments = append(moments, moment{reading.Station, reading.T}, moment{i % len(r.Current), (reading.T + r.now()) / 2})
		}
		k := filterOf(r, f.variances(), f.weighing.prior, f.weighing.middle, f.likeliest, nil, moments)
		order := sortedMoments(moments)
		for n, m := range order {
			value, deviation := f.At(m.station, m.t)
			want, open := k.value(k.copies(n))+f.weighing.middle, math.Sqrt(k.shared(k.copies(n), k.copies(n)))
			if !alike(value, want, exactly) || !alike(deviation, open*Student(1, f.Freedom), exactly) {
				t.Fatalf("station %d after %g months: %.9g ± %.9g, the filter says %.9g ± %.9g", m.station, m.t, value, deviation, want, open)
			}
		}
	})
}

// priorOf is how likely a way is before anything is read.
func priorOf(s State) (p float64) {
	p = 1
	for _, d := range decays {
		if d.value == s.Decay {
			p *= d.weight
		}
	}
	for _, d := range drifts {
		if d.value == s.Drift {
			p *= d.weight
		}
	}
	if s.Season {
		return p * seasons[1].weight
	}
	return p * seasons[0].weight
}
