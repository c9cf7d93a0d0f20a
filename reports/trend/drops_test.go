package trend

import (
	"math"
	"slices"
	"testing"
)

// lowered is a record in which the bed was lowered at some stations after a day.
func (r *Record) lowered(after, mm float64, stations ...int) *Record {
	out := r.copied()
	for i, reading := range out.Readings {
		for _, s := range stations {
			if reading.Station == s && reading.T > after {
				out.Readings[i].Y -= mm
			}
		}
	}
	return out
}

// visit is the day of a visit to a world, from 0.
func (w world) visit(r *Record, k int) float64 { return r.Readings[k*w.stations].T }

// TestDrops_found: a removal that nobody entered is found between the right two visits, once, with how
// much it took.
func TestDrops_found(t *testing.T) {
	for seed := range uint64(100) {
		rng := dice(seed)
		r := usual.record(rng)
		k := 2 + rng.IntN(usual.visits-4)
		drops := Drops(r.lowered(usual.visit(r, k), 20, 0, 2))
		if len(drops) != 1 {
			t.Errorf("seed %d: %d drops, want one", seed, len(drops))
			continue
		}
		d := drops[0]
		if d.After != usual.visit(r, k) || d.Until != usual.visit(r, k+1) || d.Station == 1 || math.Abs(d.Size-20) > 3 {
			t.Errorf("seed %d: %+v, want 20 mm at station 0 or 2 after %.2f months", seed, d, usual.visit(r, k))
		}
	}
}

// TestDrops_two: two of them are found, the first first.
func TestDrops_two(t *testing.T) {
	for seed := range uint64(50) {
		r := usual.record(dice(seed))
		first, second := usual.visit(r, 2), usual.visit(r, 6)
		drops := Drops(r.lowered(second, 15, 0, 1, 2).lowered(first, 15, 0, 1, 2))
		if len(drops) != 2 || drops[0].After != first || drops[1].After != second {
			t.Errorf("seed %d: %+v, want drops after %.2f and %.2f months", seed, drops, first, second)
		}
	}
}

// TestDrops_notOfTheHealthy: beds that only grow, with or without a season, or with one low reading among the
// others, drop in at most one of fifty records.
func TestDrops_notOfTheHealthy(t *testing.T) {
	const records, most = 200, 4
	for name, w := range map[string]world{
		"three stations":   usual,
		"a lone station":   lone,
		"few readings":     {stations: 1, visits: 6, every: 2, level: 20, rate: 1, noise: 0.9},
		"uneven and noisy": {stations: 2, visits: 24, every: 1, level: 30, rate: 2.5, apart: 4, ratesApart: 0.3, noise: 1.2},
	} {
		var plain, seasonal, low int
		for seed := range uint64(records) {
			rng := dice(seed)
			r := w.record(rng)
			if len(Drops(r)) > 0 {
				plain++
			}
			cycle, phase := r.copied(), 12*rng.Float64()
			for i, reading := range cycle.Readings {
				cycle.Readings[i].Y += 2 * math.Sin(math.Pi/6*(reading.T+phase))
			}
			if len(Drops(cycle)) > 0 {
				seasonal++
			}
			i := 2*w.stations + rng.IntN(len(r.Readings)-4*w.stations) // two visits on either side
			r.Readings[i].Y -= 6 + 14*rng.Float64()
			if len(Drops(r)) > 0 {
				low++
			}
		}
		if plain > most || seasonal > most || low > most {
			t.Errorf("%s: drops in %d of %d even records, in %d with a season, in %d with one low reading; at most %d each", name, plain, records, seasonal, low, most)
		}
	}
}

// TestDrops_entered: what is entered already is not found again.
func TestDrops_entered(t *testing.T) {
	for seed := range uint64(100) {
		r := usual.record(dice(seed))
		after := usual.visit(r, 5)
		r = r.lowered(after, 20, 0, 2)
		r.Removals = []float64{after}
		if drops := Drops(r); len(drops) > 0 {
			t.Errorf("seed %d: found %+v", seed, drops)
		}
	}
}

// TestDrops_lastReading: a drop that only one reading shows may be a slip as well; two show it.
func TestDrops_lastReading(t *testing.T) {
	found := func(r *Record, after float64) bool {
		return slices.ContainsFunc(Drops(r), func(d Drop) bool { return d.After == after })
	}
	for seed := range uint64(50) {
		r := lone.record(dice(seed))
		last, second := lone.visit(r, lone.visits-2), lone.visit(r, lone.visits-3)
		if found(r.lowered(last, 20, 0), last) {
			t.Errorf("seed %d: found by the last reading alone", seed)
		}
		if !found(r.lowered(second, 20, 0), second) {
			t.Errorf("seed %d: not found by the last two readings", seed)
		}
	}
}
