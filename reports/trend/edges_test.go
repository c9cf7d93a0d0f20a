package trend

import (
	"encoding/binary"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// everything asks a record for all that it can tell and returns what is no number.
func (r *Record) everything() error {
	for _, d := range Drops(r) {
		if !finite(d.After, d.Until, d.Size) || d.Size <= 0 || d.After >= d.Until || d.Station < 0 || d.Station >= len(r.Current) {
			return fmt.Errorf("drop %+v", d)
		}
	}
	f := New(r)
	if f == nil {
		if len(r.Readings) > 0 {
			return fmt.Errorf("no fit")
		}
		return nil
	}
	if !finite(f.Error, f.Freedom, f.Season) || !finite(f.Sound...) || !finite(f.Apart...) || len(f.States) == 0 {
		return fmt.Errorf("fit %+v", f)
	}
	for _, sound := range f.Sound {
		if sound < 0 || sound > 1 {
			return fmt.Errorf("a reading is sound with a probability of %g", sound)
		}
	}
	for _, s := range f.States {
		if !finite(s.Weight, s.Level, s.Rate, s.levelError, s.rateError, s.together) || s.levelError < 0 || s.rateError < 0 || math.Abs(s.together) > 1+1e-6 {
			return fmt.Errorf("way %+v", s)
		}
	}
	middle := (r.begin() + r.now()) / 2
	for station := range r.Current {
		for _, t := range []float64{r.begin(), middle, r.now()} {
			if value, deviation := f.At(station, t); !finite(value, deviation) || deviation < 0 {
				return fmt.Errorf("station %d after %g months: %g ± %g", station, t, value, deviation)
			}
		}
	}
	for _, turn := range []*Turn{nil, {At: middle, Mean: -8, Spread: 4}, {At: middle, Step: true, Mean: -15, Spread: 12}} {
		if bound := f.Bound(turn); !finite(bound) {
			return fmt.Errorf("bound of %+v: %g", turn, bound)
		}
	}
	for _, u := range []float64{0, 0.3, 0.9, 1} {
		n := f.Draw(Deviates{Way: u, Spread: u, Level: 6*u - 3, Rate: 3 - 6*u, Floor: 4*u - 2, Ahead: 2 * u})
		if !finite(n.Level, n.Rate, n.Ahead, n.Decay, n.After(6)) || math.IsNaN(n.Until(40)) || n.Until(40) < 0 {
			return fmt.Errorf("draw %+v", n)
		}
	}
	return nil
}

func finite(values ...float64) bool {
	for _, x := range values {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// TestNew_edges: records that hardly say anything.
func TestNew_edges(t *testing.T) {
	one, two := []bool{true}, []bool{true, true}
	for name, r := range map[string]*Record{
		"no reading":                 {},
		"no reading of a station":    {Current: two, Removals: []float64{3}},
		"one reading":                {Current: one, Readings: []Reading{{T: 2, Y: 20}}},
		"one reading of zero":        {Current: one, Readings: []Reading{{}}},
		"one reading, not current":   {Current: []bool{false}, Readings: []Reading{{T: 2, Y: 20}}},
		"one all but surely slipped": {Current: one, Readings: []Reading{{Y: 20, Slip: 0.999}}},
		"all but surely slipped":     {Current: one, Readings: []Reading{{Y: 20, Slip: 0.999}, {T: 1, Y: 30, Slip: 0.999}, {T: 2, Y: 10, Slip: 0.999}}},
		"one day":                    {Current: two, Readings: []Reading{{T: 2, Y: 20}, {T: 2, Y: 25, Station: 1}, {T: 2, Y: 21}}},
		"one day far off":            {Current: one, Readings: []Reading{{T: 2, Y: 5}, {T: 2, Y: 50}}},
		"two days alike":             {Current: one, Readings: []Reading{{T: 2, Y: 20}, {T: 3, Y: 20}}},
		"two the same day":           {Current: one, Readings: []Reading{{T: 2, Y: 20}, {T: 2, Y: 20}}},
		"a minute apart":             {Current: one, Readings: []Reading{{T: 2, Y: 20}, {T: 2.00002, Y: 24}}},
		"a station never read":       {Current: []bool{true, true, false}, Readings: []Reading{{T: 2, Y: 20, Station: 1}, {T: 3, Y: 22, Station: 1}}},
		"removed before":             {Current: one, Removals: []float64{1}, Readings: []Reading{{T: 2, Y: 20}, {T: 5, Y: 22}}},
		"removed after":              {Current: one, Removals: []float64{6}, Readings: []Reading{{T: 2, Y: 20}, {T: 5, Y: 22}}},
		"removed on both days":       {Current: one, Removals: []float64{2, 5}, Readings: []Reading{{T: 2, Y: 20}, {T: 5, Y: 12}}},
		"removed twice between":      {Current: two, Removals: []float64{3, 4, 4}, Readings: []Reading{{T: 2, Y: 20}, {T: 5, Y: 12}, {T: 9, Y: 14, Station: 1}}},
		"removed every time":         {Current: one, Removals: []float64{2, 3, 4}, Readings: []Reading{{T: 2, Y: 20}, {T: 3, Y: 12}, {T: 4, Y: 8}, {T: 5, Y: 5}}},
		"always the same":            {Current: one, Readings: []Reading{{Y: 7}, {T: 3, Y: 7}, {T: 6, Y: 7}, {T: 9, Y: 7}, {T: 12, Y: 7}}},
		"ten years between":          {Current: one, Readings: []Reading{{Y: 7}, {T: 120, Y: 70}}},
		"a century":                  {Current: one, Readings: []Reading{{Y: 7}, {T: 600, Y: 70}, {T: 1200, Y: 80}}},
	} {
		if err := r.everything(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestNew_severalRemovals: removals without a reading between them count as one, and those before and after
// all readings as none.
func TestNew_severalRemovals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := usual.record(dice(rapid.Uint64().Draw(t, "seed")))
		before := 4.2 // between two visits
		r.Removals = []float64{before}
		more := r.copied()
		more.Removals = []float64{-9, -2, 3.9, 4, 4.1, before, r.now(), r.now() + 1}
		sameWays(t, New(r), New(more), 0)
	})
}

// FuzzFit: no record of numbers that a keeper could type, nor of many that none could, stops the fit or has
// it tell what is no number. Each reading takes four bytes.
func FuzzFit(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{0, 0, 0, 0})
	f.Add([]byte{2, 1, 10, 7, 208, 0, 30, 1, 8, 152, 0, 30, 0, 60, 9, 196, 0, 90})
	f.Add([]byte{255, 255, 255, 255, 127, 255, 128, 0, 0, 0, 9, 9, 200, 200, 1, 1, 2, 3, 4, 5, 6, 7})
	f.Fuzz(func(t *testing.T, data []byte) {
		if err := recordOf(data).everything(); err != nil {
			t.Errorf("%+v: %v", recordOf(data), err)
		}
	})
}

// recordOf turns bytes into a record: stations and their use, two removals, then readings.
func recordOf(data []byte) *Record {
	const mostReadings = 12
	next := func() (b byte) {
		if len(data) > 0 {
			b, data = data[0], data[1:]
		}
		return b
	}
	kind, current := next(), next()
	r := &Record{Current: make([]bool, 1+kind%4)}
	for s := range r.Current {
		r.Current[s] = current>>s&1 == 0
	}
	first := float64(next()) / 4
	for k := range int(kind >> 4 % 3) {
		r.Removals = append(r.Removals, first+float64(k*int(current>>4)))
	}
	for len(data) > 0 && len(r.Readings) < mostReadings {
		where, days := next(), next()
		y := float64(int16(binary.BigEndian.Uint16([]byte{next(), next()})))
		if where>>4&1 == 0 {
			y /= 100 // as thick as beds are
		} else {
			y /= 3.3 // up to ±1e4 mm
		}
		r.Readings = append(r.Readings, Reading{
			T: float64(days) / 4, Station: int(where) % len(r.Current), Y: y,
			Error: float64(where>>5&3) / 2, Slip: float64(where>>7) / 2,
		})
	}
	r.sortByTime()
	return r
}
