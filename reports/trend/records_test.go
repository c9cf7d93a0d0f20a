package trend

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"pgregory.net/rapid"
)

// A world is an invented tank that grows evenly, read at all its stations on every visit.
type world struct {
	stations, visits int
	every            float64 // months between visits
	level, rate      float64 // at the first visit, mm and mm a month
	apart            float64 // standard deviation of the stations' levels, mm
	ratesApart       float64 // and of their rates, mm a month
	noise            float64 // of a reading, mm
}

// usual is a tank as keepers have it: three stations, read ten times in fifteen months.
var usual = world{stations: 3, visits: 10, every: 1.5, level: 25, rate: 1.2, apart: 3, ratesApart: 0.15, noise: 0.9}

// record reads the world; days stray by up to a week from even steps.
func (w world) record(rng *rand.Rand) *Record {
	r := &Record{Current: make([]bool, w.stations)}
	offsets, rates := make([]float64, w.stations), make([]float64, w.stations)
	for s := range w.stations {
		r.Current[s] = true
		offsets[s], rates[s] = w.apart*rng.NormFloat64(), w.rate+w.ratesApart*rng.NormFloat64()
	}
	for visit := range w.visits {
		t := w.every*float64(visit) + 0.2*rng.Float64()
		for s := range w.stations {
			r.Readings = append(r.Readings, Reading{T: t, Station: s, Y: w.level + offsets[s] + rates[s]*t + w.noise*rng.NormFloat64()})
		}
	}
	return r
}

// dice are the random numbers of a test, the same in every run.
func dice(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

// copied is a record that can be changed without the other.
func (r *Record) copied() *Record {
	return &Record{Readings: slices.Clone(r.Readings), Current: slices.Clone(r.Current), Removals: slices.Clone(r.Removals)}
}

// anyRecord draws a record such as a keeper might have, and worse: readings that share a day, stations
// that are hardly read or never, removals before, between and after, slips.
func anyRecord(t *rapid.T, most int) *Record {
	r := &Record{Current: make([]bool, rapid.IntRange(1, 4).Draw(t, "stations"))}
	for s := range r.Current {
		r.Current[s] = rapid.Bool().Draw(t, "current")
	}
	days := rapid.SliceOfN(rapid.IntRange(0, 1200), 1, most).Draw(t, "days")
	slices.Sort(days)
	level, rate := rapid.Float64Range(3, 60).Draw(t, "level"), rapid.Float64Range(-1, 4).Draw(t, "rate")
	for _, day := range days {
		at := float64(day) / 30.4375
		reading := Reading{
			T:       at,
			Station: rapid.IntRange(0, len(r.Current)-1).Draw(t, "station"),
			Y:       level + rate*at + rapid.Float64Range(-3, 3).Draw(t, "off"),
			Error:   rapid.SampledFrom([]float64{0, 0, 0.8, 2}).Draw(t, "error"),
			Slip:    rapid.SampledFrom([]float64{0, 0, 0, 0.5}).Draw(t, "slip"),
		}
		if rapid.IntRange(0, 14).Draw(t, "wrong") == 0 {
			reading.Y *= 10
		}
		r.Readings = append(r.Readings, reading)
	}
	for _, day := range rapid.SliceOfN(rapid.IntRange(-40, 1240), 0, 4).Draw(t, "removals") {
		r.Removals = append(r.Removals, float64(day)/30.4375)
	}
	slices.Sort(r.Removals)
	return r
}

// sortByTime puts readings in order, those of one day as they were.
func (r *Record) sortByTime() {
	slices.SortStableFunc(r.Readings, func(a, b Reading) int { return cmp.Compare(a.T, b.T) })
}

// alike reports numbers that are the same but for a share of them, or of one if they are small.
func alike(a, b, share float64) bool {
	return a == b || math.Abs(a-b) <= share*(1+max(math.Abs(a), math.Abs(b)))
}

// mean is what a fit expects, over the ways its course may go.
func (f *Fit) mean() (level, rate float64) {
	for _, s := range f.States {
		level += s.Weight * s.Level
		rate += s.Weight * s.Rate
	}
	return level, rate
}
