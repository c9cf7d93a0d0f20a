// Package testworlds simulates tanks whose floor is known all over, and what their keepers type of it.
// It shares nothing with the inference, so that what is found out about a tank can be held against
// what it is. Only tests import it.
//
// All ranges are assumptions, drawn wide: what beds of sand and gravel between a fresh one and a
// neglected one may do.
package testworlds

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/internal/testbeds"
)

// A World is a sort of tanks.
type World struct {
	Name      string
	Differ    float64 // how much the spots' rates differ about the tank's, relative standard deviation
	LevelsOff bool    // the mulm tends to a level; else it grows by one rate
	Season    bool    // the mulm swings with the year, everywhere alike
	Wanders   bool    // the rate is a random walk
	Siphoned  bool    // one to four times
	Untold    bool    // the siphonings are not entered
	Slips     float64 // the share of readings that are spoilt in typing
	One       bool    // one tank in four has one station only
	Mixed     bool    // all of the above is drawn
	Months    int     // how long the tanks are read; 0: 8 to 36, mostly 24
}

// Worlds are the sorts of tanks that findings are held against.
func Worlds() []World {
	return []World{
		{Name: "one rate for all spots", One: true},
		{Name: "rates differ by 10 %", Differ: 0.1},
		{Name: "rates differ by 20 %", Differ: 0.2},
		{Name: "rates differ by 30 %", Differ: 0.3},
		{Name: "growth levels off", Differ: 0.1, LevelsOff: true},
		{Name: "season", Differ: 0.1, Season: true},
		{Name: "siphonings recorded", Differ: 0.1, Siphoned: true},
		{Name: "siphonings not recorded", Differ: 0.1, Siphoned: true, Untold: true},
		{Name: "typing slips, 5 %", Differ: 0.1, Slips: 0.05},
		{Name: "mixtures", Mixed: true, One: true},
	}
}

// mixture draws everything about a world.
func (w World) mixture(rng *rand.Rand) World {
	coin := func() bool { return rng.IntN(2) == 0 }
	w.Differ, w.Slips = differMost*rng.Float64(), 0.05*rng.Float64()
	w.LevelsOff, w.Season, w.Wanders, w.Siphoned, w.Untold = coin(), coin(), coin(), coin(), coin()
	return w
}

// A Tank is the record that a keeper typed, and what was there.
type Tank struct {
	Record layers.Tank
	Truth  Truth

	floor  func(days []layers.Date) []Level
	column func(Level) []part
	keeper keeper
	oracle func() Widths // nil: its law is not one that an oracle knows
	sound  []Sight
}

// A Sight is a reading without a slip, as it was typed, told what its layers are: edges to the millimetre,
// off by the reader's noise.
type Sight struct {
	Station int
	Month   float64 // since the first reading
	Level
}

// Sights are the readings without slips; none for tanks that are held back.
func (t Tank) Sights() []Sight { return t.sound }

// A Level is the floor's mean on one day, mm below the bed surface.
type Level struct{ Mulm, Oxic float64 }

// Truth is the floor's mean on the day of the newest reading.
type Truth struct {
	Level
	Growth, Shift       float64     // of the mulm and of the colour oxic depth, mm a month, without the season
	GrowthNow, ShiftNow float64     // with it
	Front               float64     // how far the front moves down against the floor, mm a month
	Reached             layers.Date // when the mulm reaches its default limit if nothing changes; zero: never
}

// Over reports whether the mulm has passed its default limit already.
func (t Truth) Over() bool { return t.Mulm >= limitMM }

// Floor is the floor's mean on rising days.
func (t Tank) Floor(days []layers.Date) []Level { return t.floor(days) }

// spotCount is how many spots stand for the whole floor.
const spotCount = 400

// A bed is a tank's floor with the keeper who reads it.
type bed struct {
	law
	world       World
	spots       []spot
	offset      float64 // standard deviation of what spots' edges are off by, mm
	noise       float64 // standard deviation of a reading's edge, mm
	patchy      float64 // standard deviation of the share that a removal takes from place to place
	mulmBand    palette.Band
	black, seen float64 // thickness, and how far below the mulm one can see, mm
	first       layers.Date
	days        []layers.Date // of the readings
	keeper      keeper
}

// newBed draws a floor and the days on which it is read.
func newBed(rng *rand.Rand, w World) *bed {
	if w.Mixed {
		w = w.mixture(rng)
	}
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	months := w.Months
	if months == 0 {
		if months = 24; rng.IntN(5) < 2 {
			months = 8 + rng.IntN(29)
		}
	}
	b := &bed{
		world: w, offset: between(offsetLow, offsetHigh), noise: between(0.5, 1.5), black: between(8, 30),
		mulmBand: []palette.Band{palette.MulmLight, palette.MulmDark}[rng.IntN(2)],
		first:    testbeds.Day("2023-01-01") + layers.Date(rng.IntN(365)),
	}
	every := []func() int{func() int { return 28 + rng.IntN(6) }, func() int { return 14 }, func() int { return 10 + rng.IntN(41) }}[rng.IntN(3)]
	for day := b.first; b.month(day) <= float64(months); day += layers.Date(every()) {
		b.days = append(b.days, day)
	}
	b.law = drawLaw(rng, w, b.month(b.days[len(b.days)-1]))
	b.seen = rustMost + 0.5*b.black + between(0, 60)
	if w.Siphoned {
		b.siphon(rng)
	}
	for range spotCount {
		s := spot{
			mulm: b.offset * rng.NormFloat64(), rust: b.offset * rng.NormFloat64(),
			rates: w.Differ * rng.NormFloat64(), fronts: w.Differ * rng.NormFloat64(),
		}
		for range b.removals {
			s.removed = append(s.removed, b.patchy*rng.NormFloat64())
		}
		b.spots = append(b.spots, s)
	}
	kind := layers.Sand
	if rng.IntN(4) == 0 {
		kind = layers.Gravel
	}
	b.keeper = newKeeper(rng, kind, func() float64 { return b.noise * rng.NormFloat64() })
	b.keeper.labelled = b.keeper.labelled || !w.Mixed // names are doubted elsewhere
	return b
}

// The ranges that a law is drawn from; the oracle knows them.
const (
	startLow, startHigh   = 2, 25     // mm of mulm
	rateLow, rateHigh     = -0.2, 3.0 // mm a month
	decayLow, decayHigh   = 0.03, 0.3 // a month
	levelLow, levelHigh   = 5, 70     // mm of mulm
	swingLow, swingHigh   = 0.5, 2.5  // mm
	rustLow, rustHigh     = 3, 15     // mm
	frontLow, frontHigh   = -0.6, 0.6 // mm a month
	shareLow, shareHigh   = 0.2, 0.7  // of the mulm
	offsetLow, offsetHigh = 0.3, 2    // mm
	turn                  = 0.1       // mm a month, standard deviation of what a month adds to a wandering rate
	differMost            = 0.3       // relative standard deviation of spots' rates, in mixtures
	patchyShare           = 0.15      // standard deviation of the share that a patchy siphoning takes
)

// The rust stays between these to the end of the readings, mm (assumption).
const rustLeast, rustMost = 2, 25

func drawLaw(rng *rand.Rand, w World, months float64) (l law) {
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	l.start = between(startLow, startHigh)
	if w.LevelsOff {
		l.decay, l.level = between(decayLow, decayHigh), between(levelLow, levelHigh)
	} else {
		l.rate = between(rateLow, rateHigh)
	}
	if w.Season {
		l.swing, l.phase = between(swingLow, swingHigh), between(0, 2*math.Pi)
	}
	if w.Wanders {
		for range int(math.Ceil(months)) {
			l.turns = append(l.turns, turn*rng.NormFloat64())
		}
	}
	for {
		l.rust, l.front = between(rustLow, rustHigh), between(frontLow, frontHigh)
		if end := l.rust + l.front*months; rustLeast <= end && end <= rustMost {
			return l
		}
	}
}

// siphon draws one to four siphonings between the readings or after one of them, at least three weeks
// apart and before the last reading.
func (b *bed) siphon(rng *rand.Rand) {
	if rng.IntN(2) == 0 {
		b.patchy = patchyShare
	}
	last := b.days[len(b.days)-1]
	var days []layers.Date
	for range 1 + rng.IntN(4) {
		day := b.first + 30 + layers.Date(rng.IntN(int(last-b.first)-30))
		if rng.IntN(2) == 0 {
			day = b.days[rng.IntN(len(b.days)-1)]
		}
		if !slices.ContainsFunc(days, func(other layers.Date) bool { return day < other+21 && other < day+21 }) {
			days = append(days, day)
		}
	}
	slices.Sort(days)
	for _, day := range days {
		b.removals = append(b.removals, removal{b.month(day), shareLow + (shareHigh-shareLow)*rng.Float64()})
	}
}

func (b *bed) month(day layers.Date) float64 { return b.first.Months(day) }

func (b *bed) months(days []layers.Date) (months []float64) {
	for _, day := range days {
		months = append(months, b.month(day))
	}
	return months
}

// column is a place's layers, down to where they are seen.
func (b *bed) column(at Level) []part {
	return cut([]part{
		{at.Mulm, b.mulmBand}, {at.Oxic, palette.Rust}, {at.Oxic + b.black, palette.Black}, {at.Mulm + b.seen, palette.Native},
	}, at.Mulm+b.seen)
}

// levels are a spot's on rising days.
func (b *bed) levels(s *spot, days []layers.Date) (list []Level) {
	months := b.months(days)
	for i, mm := range b.mulm(s, months) {
		list = append(list, Level{mm, mm + b.rustAt(s, months[i])})
	}
	return list
}

// floor is the mean of all spots on rising days.
func (b *bed) floor(days []layers.Date) []Level {
	mean := make([]Level, len(days))
	for i := range b.spots {
		for j, at := range b.levels(&b.spots[i], days) {
			mean[j].Mulm += at.Mulm / spotCount
			mean[j].Oxic += at.Oxic / spotCount
		}
	}
	return mean
}

// truth is what the floor's mean is on the day of the last reading.
func (b *bed) truth() (t Truth) {
	last := b.days[len(b.days)-1:]
	now := b.months(last)
	t.Level = b.floor(last)[0]
	var trend float64 // of the mulm
	for i := range b.spots {
		s := &b.spots[i]
		mm := b.trend(s, now)[0]
		trend += mm / spotCount
		t.Growth += b.slope(s, mm) / spotCount
		t.Front += (b.rustAt(s, now[0]+moment) - b.rustAt(s, now[0])) / moment / spotCount
	}
	t.Shift, t.GrowthNow = t.Growth+t.Front, t.Growth+b.seasonSlope(now[0])
	t.ShiftNow = t.GrowthNow + t.Front
	if month, ever := b.reaches(limitMM, now[0], trend, t.Growth); ever {
		t.Reached = b.first + layers.Date(math.Round(month*layers.DaysPerMonth))
	}
	return t
}

// moment is a time short enough for a speed, months.
const moment = 0.01

// stations are the names of the places where a floor is read, in the order in which keepers take them up.
func stations() []string { return []string{"front", "left", "right", "back"} }

// Draw draws a tank.
func (w World) Draw(rng *rand.Rand, id int) Tank {
	b := newBed(rng, w)
	least := 2
	if w.One && rng.IntN(4) == 0 {
		least = 1
	}
	names := stations()[:least]
	if least > 1 {
		names = stations()[:2+rng.IntN(3)]
	}
	t := Tank{Record: b.blank(rng, fmt.Sprintf("%s %d", w.Name, id)), floor: b.floor, column: b.column, keeper: b.keeper, Truth: b.truth()}
	for i, name := range names { // spots are in no order: the first few are as good as any
		for j, at := range b.levels(&b.spots[i], b.days) {
			list := b.keeper.reads(b.column(at))
			if rng.Float64() < b.world.Slips {
				list = b.keeper.slips(list, func() []layers.Layer {
					other := newBed(rng, World{})
					return other.keeper.reads(other.column(other.levels(&other.spots[0], other.days[len(other.days)-1:])[0]))
				})
			} else {
				t.sound = append(t.sound, Sight{i, b.month(b.days[j]), typed(b.column(at), list)})
			}
			t.Record.Cores = append(t.Record.Cores, layers.Core{Date: b.days[j], Station: name, Layers: list})
		}
	}
	if !b.world.Untold {
		for _, r := range b.removals {
			t.Record.Events = append(t.Record.Events, layers.Event{Date: b.first + layers.Date(math.Round(r.month*layers.DaysPerMonth)), Kind: layers.EventSiphon})
		}
	}
	t.oracle = func() Widths {
		return b.narrowest(t.sound, len(names), t.Truth, true).atLeast(b.narrowest(t.sound, len(names), t.Truth, false))
	}
	return t
}

// blank is the record before anything is read: a tank that is past its youth, with no roots.
func (b *bed) blank(rng *rand.Rand, id string) layers.Tank {
	t := layers.Tank{
		ID: id, SetUp: b.first - layers.Date(180+rng.IntN(800)), RootedPlants: new(false),
		Flow: []layers.Flow{layers.Livestock, layers.Bubbled, layers.Pumped}[rng.IntN(3)],
	}
	if rng.IntN(2) == 0 {
		t.Native = []layers.Native{{Name: string(b.keeper.kind), Kind: b.keeper.kind, Color: b.keeper.colors[palette.Native]}}
	}
	return t
}

// healthyMM is the least colour oxic depth that a healthy floor has on average, mm (assumption: well
// over the 5 mm at which a front is too near the surface).
const healthyMM = 8

// Healthy draws a tank that is read for two years and is never in danger.
func (w World) Healthy(rng *rand.Rand, id int) Tank {
	w.Months = 24
	for {
		t := w.Draw(rng, id)
		if !slices.ContainsFunc(t.Floor(t.Days()), func(l Level) bool { return l.Oxic < healthyMM }) {
			return t
		}
	}
}
