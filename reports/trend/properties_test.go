package trend

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// inOrder is how near results may be if sums are only formed in another order.
const inOrder = 1e-7

// sameWays fails unless two fits are the same but for where the level stands.
func sameWays(t *rapid.T, f, g *Fit, higher float64) {
	t.Helper()
	weight := func(f *Fit, s State) float64 {
		for _, other := range f.States {
			if other.Decay == s.Decay && other.Drift == s.Drift && other.Season == s.Season {
				return other.Weight
			}
		}
		return leastWeight // just dropped
	}
	for _, s := range f.States {
		if other := weight(g, s); !alike(other, s.Weight, inOrder) {
			t.Fatalf("way %+v: weight %g", s, other)
		}
	}
	level, rate := f.mean()
	otherLevel, otherRate := g.mean()
	if !alike(otherLevel, level+higher, inOrder) || !alike(otherRate, rate, inOrder) || !alike(g.Error, f.Error, inOrder) || !alike(g.Season, f.Season, inOrder) || f.Differ != g.Differ {
		t.Fatalf("level %g, rate %g, error %g; then level %g, rate %g, error %g", level, rate, f.Error, otherLevel, otherRate, g.Error)
	}
}

// TestNew_orderOfStations: which station is the first makes no difference, nor does the order of the
// readings of a day.
func TestNew_orderOfStations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRecord(t, 20)
		order := rapid.Permutation(indices(len(r.Current))).Draw(t, "order")
		other := &Record{Current: make([]bool, len(r.Current)), Removals: r.Removals}
		for s, current := range r.Current {
			other.Current[order[s]] = current
		}
		for _, reading := range slices.Backward(r.Readings) {
			reading.Station = order[reading.Station]
			other.Readings = append(other.Readings, reading)
		}
		other.sortByTime()
		if distinctDays(r) {
			sameWays(t, New(r), New(other), 0)
		}
	})
}

// distinctDays reports a record in which no station has two readings on one day.
func distinctDays(r *Record) bool {
	for i, a := range r.Readings {
		for _, b := range r.Readings[:i] {
			if a.Station == b.Station && a.T == b.T {
				return false
			}
		}
	}
	return true
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// TestNew_wholeYears: the calendar's zero is of no account, but the season's place in the year is.
func TestNew_wholeYears(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRecord(t, 20)
		later, years := r.copied(), float64(rapid.IntRange(-30, 30).Draw(t, "years"))
		for i := range later.Readings {
			later.Readings[i].T += 12 * years
		}
		for i := range later.Removals {
			later.Removals[i] += 12 * years
		}
		sameWays(t, New(r), New(later), 0)
	})
}

// TestNew_shifted: what lies below the level is of no account, except that thicker beds are thought to be less
// even. So a record laid as far below zero as it lay above is the same, but for its level.
func TestNew_shifted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRecord(t, 20)
		var all []float64
		for _, reading := range r.Readings {
			all = append(all, reading.Y)
		}
		middle := median(all)
		lower := r.copied()
		for i := range lower.Readings {
			lower.Readings[i].Y -= 2 * middle
		}
		sameWays(t, New(r), New(lower), -2*middle)
	})
}

// TestNew_thicker: and for any bed that is read well, the rate hardly depends on how thick it is.
func TestNew_thicker(t *testing.T) {
	for seed := range uint64(40) {
		r := usual.record(dice(seed))
		thicker := r.copied()
		for i := range thicker.Readings {
			thicker.Readings[i].Y += 30
		}
		f, g := New(r), New(thicker)
		level, rate := f.mean()
		otherLevel, otherRate := g.mean()
		if math.Abs(otherLevel-level-30) > 0.02 || math.Abs(otherRate-rate) > 0.01 {
			t.Errorf("seed %d: level %.3f and rate %.3f, 30 mm thicker %.3f and %.3f", seed, level, rate, otherLevel, otherRate)
		}
	}
}

// TestNew_weights: the ways are all that there are.
func TestNew_weights(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := New(anyRecord(t, 20))
		var sum, season float64
		for i, s := range f.States {
			sum += s.Weight
			if s.Season {
				season += s.Weight
			}
			if !alike(f.cumulative[i], sum, 1e-12) {
				t.Fatalf("cumulative weights %v", f.cumulative)
			}
		}
		if !alike(sum, 1, 1e-12) || !alike(season, f.Season, 1e-12) {
			t.Fatalf("weights add up to %.15g, those with a season to %.15g, not %.15g", sum, season, f.Season)
		}
	})
}

// TestGrown: without decay a slope goes on for ever, and a little decay makes little difference.
func TestGrown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		months := rapid.Float64Range(-12, 240).Draw(t, "months")
		decay := rapid.Float64Range(0, 0.4).Draw(t, "decay")
		if got := Grown(months, 0); got != months {
			t.Fatalf("%g months of an even slope are %g", months, got)
		}
		if got := Grown(months, 1e-9); !alike(got, months, 1e-6*max(1, math.Abs(months))) {
			t.Fatalf("%g months of hardly any decay are %g", months, got)
		}
		if got := Grown(months, decay); got > months+1e-9 {
			t.Fatalf("%g months take a slope that decays further than an even one: %g", months, got)
		}
		more := rapid.Float64Range(0, 60).Draw(t, "more")
		if got, want := Grown(months+more, decay), Grown(months, decay)+math.Exp(-decay*months)*Grown(more, decay); !alike(got, want, 1e-9) {
			t.Fatalf("%g and %g months in one are %g, one after the other %g", months, more, got, want)
		}
	})
}

// TestNow_until: after the months that it takes to the limit, it is there.
func TestNow_until(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := Now{
			Level: rapid.Float64Range(0, 80).Draw(t, "level"),
			Ahead: rapid.Float64Range(-3, 6).Draw(t, "ahead"),
			Decay: rapid.SampledFrom([]float64{0, 1e-9, 0.04, 0.09, 0.18, 0.35}).Draw(t, "decay"),
		}
		limit := rapid.Float64Range(0, 120).Draw(t, "limit")
		months := n.Until(limit)
		switch {
		case n.Level >= limit:
			if months != 0 {
				t.Fatalf("passed already, but in %g months", months)
			}
		case math.IsInf(months, 1):
			if furthest := n.After(1e6); furthest > limit+1e-6 {
				t.Fatalf("never, but in time it is at %g", furthest)
			}
		case months < 0 || !alike(n.After(months), limit, 1e-6):
			t.Fatalf("in %g months, but then it is at %g", months, n.After(months))
		}
	})
}

// TestDraw_monotone: a higher deviate never draws less of what it is the deviate of.
func TestDraw_monotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := New(anyRecord(t, 12))
		z := rapid.Float64Range(-4, 4)
		d := Deviates{
			Way: rapid.Float64Range(0, 1).Draw(t, "way"), Spread: rapid.Float64Range(0, 1).Draw(t, "spread"),
			Level: z.Draw(t, "level"), Rate: z.Draw(t, "rate"), Floor: z.Draw(t, "floor"), Ahead: z.Draw(t, "ahead"),
		}
		up := rapid.Float64Range(0, 3).Draw(t, "up")
		low := f.Draw(d)
		change := func(change func(d *Deviates)) Now {
			higher := d
			change(&higher)
			return f.Draw(higher)
		}
		const rounding = 1e-9
		if n := change(func(d *Deviates) { d.Level += up }); n.Level < low.Level-rounding {
			t.Fatalf("level: %+v, then %+v", low, n)
		}
		if n := change(func(d *Deviates) { d.Rate += up }); n.Rate < low.Rate-rounding || n.Level != low.Level {
			t.Fatalf("rate: %+v, then %+v", low, n)
		}
		if n := change(func(d *Deviates) { d.Floor += up }); n.Rate < low.Rate-rounding || n.Level < low.Level-rounding {
			t.Fatalf("floor: %+v, then %+v", low, n)
		}
		if n := change(func(d *Deviates) { d.Ahead += up }); n.Ahead < low.Ahead-rounding || n.Rate != low.Rate || n.Level != low.Level {
			t.Fatalf("ahead: %+v, then %+v", low, n)
		}
	})
}

// TestDraw_isOfTheStates: many draws, each with its mirror image, have the mean of the ways, and those that
// level off come as often as they weigh.
func TestDraw_isOfTheStates(t *testing.T) {
	f, rng := New(usual.record(dice(5))), dice(6)
	level, rate := f.mean()
	var levels, rates, fading, decaying float64
	const draws = 20000
	for range draws {
		d := anyDeviates(rng)
		n := f.Draw(d)
		d.Level, d.Rate, d.Floor, d.Ahead = -d.Level, -d.Rate, -d.Floor, -d.Ahead
		mirrored := f.Draw(d)
		levels, rates = levels+(n.Level+mirrored.Level)/2/draws, rates+(n.Rate+mirrored.Rate)/2/draws
		if n.Decay > 0 {
			fading += 1.0 / draws
		}
	}
	for _, s := range f.States {
		if s.Decay > 0 {
			decaying += s.Weight
		}
	}
	if math.Abs(levels-level) > 0.01 || math.Abs(rates-rate) > 0.01 || math.Abs(fading-decaying) > 0.005 {
		t.Errorf("draws: level %.3f, rate %.3f, %.3f that level off; states: %.3f, %.3f, %.3f", levels, rates, fading, level, rate, decaying)
	}
}

func anyDeviates(rng *rand.Rand) Deviates {
	return Deviates{
		Way: rng.Float64(), Spread: rng.Float64(),
		Level: rng.NormFloat64(), Rate: rng.NormFloat64(), Floor: rng.NormFloat64(), Ahead: rng.NormFloat64(),
	}
}

// TestDraw_together: level and rate are drawn as correlated as they are: what the rate takes from the level's
// deviate and what from its own make up its whole error.
func TestDraw_together(t *testing.T) {
	f := New(lone.record(dice(4)))
	middle := f.Draw(Deviates{})
	byLevel, byOwn := f.Draw(Deviates{Level: 1}), f.Draw(Deviates{Rate: 1})
	s := f.States[0]
	if math.Abs(s.together) < 0.2 {
		t.Fatalf("correlation %.2f, too little to see", s.together)
	}
	one := Student(1, f.Freedom)
	if got, want := byLevel.Level-middle.Level, s.levelError*one; !alike(got, want, 1e-9) {
		t.Errorf("level strays by %g, want %g", got, want)
	}
	if got, want := byLevel.Rate-middle.Rate, s.together*s.rateError*one; !alike(got, want, 1e-9) {
		t.Errorf("with the level the rate strays by %g, want %g", got, want)
	}
	if got, want := math.Hypot(byLevel.Rate-middle.Rate, byOwn.Rate-middle.Rate), s.rateError*one; !alike(got, want, 1e-9) {
		t.Errorf("in all the rate strays by %g, want %g", got, want)
	}
}

// TestNew_apart: stations' rates beside the tank's add up to none and lie near those that they were made with.
func TestNew_apart(t *testing.T) {
	for seed := range uint64(30) {
		even := usual
		even.ratesApart = 0
		r := even.record(dice(seed))
		want := []float64{-1, 0.2, 0.8}
		for i, reading := range r.Readings {
			r.Readings[i].Y += want[reading.Station] * reading.T
		}
		f := New(r)
		var sum float64
		for s, apart := range f.Apart {
			if sum += apart; math.Abs(apart-want[s]) > 0.3 {
				t.Errorf("seed %d: station %d grows by %.2f mm a month more than the tank, want %.2f", seed, s, apart, want[s])
			}
		}
		if !alike(sum, 0, 1e-9) || !f.Differ {
			t.Errorf("seed %d: rates apart add up to %g; they differ: %v", seed, sum, f.Differ)
		}
	}
}
