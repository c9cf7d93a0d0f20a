package testworlds

import (
	"fmt"
	"math"
	"math/rand/v2"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/internal/testbeds"
)

// A field is a smooth random surface over the floor, about 0 with a standard deviation of 1: a sum of
// waves.
type field [6]struct{ x, y, phase float64 }

func newField(rng *rand.Rand) (f field) {
	for i := range f {
		f[i].x, f[i].y, f[i].phase = 6*rng.NormFloat64(), 6*rng.NormFloat64(), 2*math.Pi*rng.Float64()
	}
	return f
}

func (f field) at(x, y float64) (sum float64) {
	for _, wave := range f {
		sum += math.Sin(wave.x*x + wave.y*y + wave.phase)
	}
	return sum / math.Sqrt(float64(len(f))/2)
}

// Kept draws a tank that is built otherwise than those of the worlds, day by day: it is held back to
// show whether what suits those suits others. Nothing may be tuned to it. Its spots lie on smooth surfaces;
// what falls on the floor changes with each quarter and wanders between, and a part of it rots; readings
// err by Laplace's law and leave out places; in one tank of three clean substrate lies on a thin grey or
// black zone, without rust.
func Kept(rng *rand.Rand, id int) Tank {
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	const side = 20 // so many spots to each side of the floor
	mulmField, rateField, frontField := newField(rng), newField(rng), newField(rng)
	rough, differ := between(0.5, 2), between(0, 0.3)
	first := testbeds.Day("2022-03-01") + layers.Date(rng.IntN(500))
	span := 300 + rng.IntN(700) // days
	start, usual, rot := between(3, 20), between(0, 2.5), []float64{0, between(0.005, 0.06)}[rng.IntN(2)]
	clean, moves, reduced := between(4, 14), between(-0.3, 0.4), between(6, 25)
	siphoned, taken := -1, between(0.3, 0.6)
	if rng.IntN(3) == 0 {
		siphoned = 60 + rng.IntN(span-120)
	}

	rates := make([]float64, span+2) // mm a day, to the day after the last
	quarter, wander := 1.0, 0.0
	for day := range rates {
		if day%91 == 0 {
			quarter = between(0.7, 1.3)
		}
		wander += 0.005 * rng.NormFloat64()
		rates[day] = (usual*quarter + wander) / layers.DaysPerMonth
	}
	course := func(x, y float64) []Level {
		list := make([]Level, span+2)
		mm := max(0, start+rough*mulmField.at(x, y))
		more, front := 1+differ*rateField.at(x, y), clean+rough/2*frontField.at(x, y)
		for day := range list {
			list[day] = Level{mm, mm + max(0, front+moves*float64(day)/layers.DaysPerMonth)}
			if day == siphoned {
				mm *= 1 - taken
			}
			mm = max(0, mm+rates[day]*more-rot/layers.DaysPerMonth*mm)
		}
		return list
	}
	mean := make([]Level, span+2)
	for i := range side * side {
		for day, at := range course((float64(i%side)+0.5)/side, (float64(i/side)+0.5)/side) {
			mean[day].Mulm += at.Mulm / (side * side)
			mean[day].Oxic += at.Oxic / (side * side)
		}
	}

	kind := []layers.Kind{layers.Sand, layers.Gravel}[rng.IntN(2)]
	scale := between(0.4, 1)
	k := newKeeper(rng, kind, func() float64 { // Laplace: the difference of two exponentials
		return scale * (rng.ExpFloat64() - rng.ExpFloat64())
	})
	above, below := palette.Rust, palette.Black
	if rng.IntN(3) == 0 {
		above, below = palette.Native, []palette.Band{palette.Black, palette.Grey}[rng.IntN(2)]
	}
	deep := between(50, 90)
	lightPart := []float64{0, 0.5, 1}[rng.IntN(3)]
	column := func(at Level) []part {
		return cut([]part{
			{lightPart * at.Mulm, palette.MulmLight}, {at.Mulm, palette.MulmDark}, {at.Oxic, above}, {at.Oxic + reduced, below}, {at.Mulm + deep, palette.Native},
		}, at.Mulm+deep)
	}
	t := Tank{column: column, keeper: k}
	t.Record = layers.Tank{ID: fmt.Sprint("kept ", id), SetUp: first - layers.Date(120+rng.IntN(400)), Flow: layers.Pumped, RootedPlants: new(false)}
	every := []int{14, 30, 45}[rng.IntN(3)]
	var last int
	for s, name := range stations()[:2+rng.IntN(3)] {
		levels := course(rng.Float64(), rng.Float64())
		for day := 0; day <= span; day += every {
			if s > 0 && rng.IntN(10) == 0 {
				continue
			}
			list := k.reads(column(levels[day]))
			if rng.IntN(50) == 0 {
				list = k.slips(list, func() []layers.Layer { return layers.TurnedOver(layers.Scaled(list, 0.5)) })
			}
			last = max(last, day)
			t.Record.Cores = append(t.Record.Cores, layers.Core{Date: first + layers.Date(day), Station: name, Layers: list})
		}
	}
	if siphoned >= 0 {
		t.Record.Events = []layers.Event{{Date: first + layers.Date(siphoned), Kind: layers.EventSiphon}}
	}
	t.floor = func(days []layers.Date) (list []Level) {
		for _, day := range days {
			list = append(list, mean[day-first])
		}
		return list
	}
	now, next := mean[last], mean[last+1]
	growth, shift := (next.Mulm-now.Mulm)*layers.DaysPerMonth, (next.Oxic-now.Oxic)*layers.DaysPerMonth
	t.Truth = Truth{Level: now, Growth: growth, GrowthNow: growth, Shift: shift, ShiftNow: shift, Front: shift - growth}
	month := float64(last) / layers.DaysPerMonth
	if then, ever := (&law{decay: rot}).reaches(limitMM, month, now.Mulm, growth); ever {
		t.Truth.Reached = first + layers.Date(math.Round(then*layers.DaysPerMonth))
	}
	return t
}
