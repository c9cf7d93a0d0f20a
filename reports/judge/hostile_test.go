package judge

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// strata are the thicknesses of a bed, mm.
type strata struct{ mulm, rust, black float64 }

// swollen is a bed in which black has come up so far, through the rust and then the mulm.
func (s strata) swollen(mm float64) strata {
	of := min(s.rust, max(0, mm))
	s.rust, s.black, mm = s.rust-of, s.black+of, max(0, mm)-of
	of = min(mm, max(0, s.mulm-1))
	return strata{s.mulm - of, s.rust, s.black + of}
}

// odd is a record of worlds that go as told, read with a ruler that strays by noise mm: 60 mm of substrate,
// a reading a month at each station.
type odd struct {
	stations []string
	readings int
	noise    float64
	seed     uint64
	bed      func(month float64, station string) strata
	change   func(t *layers.Tank)
}

func (w odd) tank() layers.Tank {
	rng := rand.New(rand.NewPCG(w.seed, 1))
	tank := layers.Tank{ID: "odd", SetUp: testbeds.Day("2024-06-01"), Flow: layers.Pumped}
	for n := range w.readings {
		for _, station := range w.stations {
			s := w.bed(float64(n), station)
			core := layers.Core{Date: testbeds.Day("2024-09-01") + layers.Date(30*n), Station: station}
			at, down := 0.0, 0.0
			add := func(mm float64, band palette.Band) {
				if mm <= 0 {
					return
				}
				down += mm
				edge := max(at+1, math.Round(down+w.noise*rng.NormFloat64()))
				core.Layers = append(core.Layers, testbeds.Of(edge-at, band))
				at = edge
			}
			add(s.mulm, palette.MulmLight)
			add(s.rust, palette.Rust)
			add(s.black, palette.Black)
			add(60-s.rust-s.black, palette.Native)
			tank.Cores = append(tank.Cores, core)
		}
	}
	if w.change != nil {
		w.change(&tank)
	}
	return tank
}

// lastSlip has the newest core but a few, of the first station, so many times as thick.
func lastSlip(back int, times float64) func(*layers.Tank) {
	return func(t *layers.Tank) {
		var own []int
		for i, core := range t.Cores {
			if core.Station == t.Cores[0].Station {
				own = append(own, i)
			}
		}
		i := own[len(own)-1-back]
		t.Cores[i].Layers = layers.Scaled(t.Cores[i].Layers, times)
	}
}

// TestHostile_runaways: runaways in odd shapes are told of, and healthy records that look like one are not;
// mulm that turned black was not siphoned.
func TestHostile_runaways(t *testing.T) {
	one, three := []string{"front"}, []string{"front", "left", "right"}
	grown := func(m float64) strata { return strata{6 + m, 16, 10} }
	swelling := func(m float64, _ string) strata { return grown(m).swollen(8 * (m - 11)) }
	steady := func(m float64, _ string) strata { return grown(m) }
	for _, c := range []struct {
		name  string
		world odd
		told  bool
	}{
		{"everywhere", odd{stations: three, readings: 15, bed: swelling}, true},
		{"a single station", odd{stations: one, readings: 15, bed: swelling}, true},
		{"at one station of three", odd{stations: three, readings: 15, bed: func(m float64, station string) strata {
			if station != "left" {
				return grown(m)
			}
			return swelling(m, station)
		}}, true},
		{"through thin rust into the mulm", odd{stations: three, readings: 15, bed: func(m float64, _ string) strata {
			return strata{14 + m/2, 5, 10}.swollen(8 * (m - 11))
		}}, true},
		{"with a slip in the middle", odd{stations: three, readings: 15, bed: swelling, change: lastSlip(1, 10)}, true},
		{"growing", odd{stations: three, readings: 15, bed: steady}, false},
		{"a noisy reader", odd{stations: three, readings: 24, noise: 2.5, bed: steady}, false},
		{"a core of another scale", odd{stations: one, readings: 12, bed: steady, change: lastSlip(0, 1.8)}, false},
		{"a top-up that buries mulm", odd{stations: three, readings: 15, bed: func(m float64, _ string) strata {
			if m > 10 {
				return strata{m - 10, 26, 20}
			}
			return grown(m)
		}, change: func(t *layers.Tank) {
			t.Events = []layers.Event{eventOn(testbeds.Day("2024-09-01")+310, layers.EventTopUpSubstrate)}
		}}, false},
		{"over and healed", odd{stations: three, readings: 15, bed: func(m float64, _ string) strata {
			return grown(m).swollen(min(8*(m-7), 16-8*(m-9)))
		}}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			for seed := range uint64(4) {
				c.world.seed = seed
				c.world.noise = max(0.8, c.world.noise)
				found := interpretFew(c.world.tank())
				if found.Watch.Runaway() != c.told {
					t.Errorf("seed %d: told with a probability of %g, since %s", seed, *found.Watch.Probability, found.Watch.Since)
				}
				for _, q := range found.Questions {
					if strings.Contains(q.Text, "of mulm went") {
						t.Errorf("seed %d: nothing was removed, yet: %s", seed, q.Text)
					}
				}
			}
		})
	}
}

// drawOdd is a record of any course: growth, removals entered or not, runaways, slips, gaps, noise.
func drawOdd(t *rapid.T) layers.Tank {
	uniform := func(what string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, what) }
	of, growth, begins, speed := strata{uniform("mulm", 0, 60), uniform("rust", 0, 25), uniform("black", 0, 25)}, uniform("growth", -2, 9), uniform("begins", -5, 40), uniform("speed", -5, 15)
	every, local := uniform("removed every", 2, 60), rapid.Bool().Draw(t, "local")
	tank := odd{
		stations: []string{"back", "front", "left"}[:rapid.IntRange(1, 3).Draw(t, "stations")], readings: rapid.IntRange(1, 30).Draw(t, "readings"),
		noise: uniform("noise", 0, 3), seed: rapid.Uint64().Draw(t, "seed"),
		bed: func(m float64, station string) strata {
			s := of
			if s.mulm = max(0, s.mulm+growth*math.Mod(m, every)); local && station != "back" {
				return s
			}
			return s.swollen(min(60-s.black, speed*(m-begins)))
		},
	}.tank()
	keep := rapid.Float64Range(0.3, 1).Draw(t, "kept")
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "gaps"), 2))
	tank.Cores = slices.DeleteFunc(tank.Cores, func(c layers.Core) bool { return c.Date != tank.Cores[0].Date && rng.Float64() > keep })
	if rapid.Bool().Draw(t, "unnamed") {
		for i := range tank.Cores {
			tank.Cores[i].Layers = testbeds.Unnamed(tank.Cores[i].Layers...)
		}
	}
	for range rapid.IntRange(0, 3).Draw(t, "slips") {
		i := rng.IntN(len(tank.Cores))
		tank.Cores[i].Layers = layers.Scaled(tank.Cores[i].Layers, []float64{0.1, 10, 2.54}[rng.IntN(3)])
	}
	for range rapid.IntRange(0, 4).Draw(t, "events") {
		kind := []layers.EventKind{layers.EventSiphon, layers.EventStir, layers.EventTopUpSubstrate, layers.EventReplant, layers.EventDeadAnimal}[rng.IntN(5)]
		tank.Events = append(tank.Events, eventOn(tank.Cores[rng.IntN(len(tank.Cores))].Date+layers.Date(rng.IntN(20)), kind))
	}
	return tank
}

// TestHostile_holdsTogether checks what must be true of the course of any record, and of what is said of it.
func TestHostile_holdsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawOdd(t)
		record := NewRecord(tank, testbeds.Few())
		if _, err := json.Marshal(record); err != nil { // no number that is none
			t.Fatal(err)
		}
		found := record.Tank
		for name, e := range map[string]*reports.Estimate{
			"oxic depth": found.OxicDepth, "mulm": found.Mulm, "black zone": found.BlackZone, "growth": found.Accumulation,
			"front shift": found.FrontShift, "floor shift": found.FloorShift,
		} {
			checkEstimate(t, name, e)
		}
		if found.OxicDepth.Low < 0 || found.Mulm.Low < 0 || found.BlackZone.Low < 0 {
			t.Fatalf("less than nothing: oxic %+v, mulm %+v, black %+v", found.OxicDepth, found.Mulm, found.BlackZone)
		}
		if f := found.LimitReached; f != nil {
			last := layers.Date(0)
			for i, day := range []*layers.Date{f.Earliest, f.Expected, f.Latest} {
				if day != nil && (*day < last || i > 0 && last == 0) {
					t.Fatalf("the forecast is out of order: %v", *f)
				}
				if last = 0; day != nil {
					last = *day
				}
			}
		}
		w := found.Watch
		if p := *w.Probability; math.IsNaN(p) || p < 0 || p > 1 || w.Since > found.AsOf {
			t.Fatalf("a runaway with %g since %s, as of %s", p, w.Since, found.AsOf)
		}
		if w.Runaway() && (len(w.Signs) == 0 || w.Since == 0) {
			t.Fatalf("a runaway is told without a sign or a day: %+v", w)
		}
		for _, line := range record.Timeline.Stations {
			for _, trend := range slices.Concat(line.Mulm, line.Front) {
				for _, p := range trend.Points {
					if !(0 <= p.Low && p.Low <= p.MM && p.MM <= p.High) {
						t.Fatalf("%s: a point of the line is %+v", line.Station, p)
					}
				}
			}
		}
	})
}
