package infer

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/internal/testbeds"
)

// photographed is a core of mulm, rust, black and sand as a photo might give it.
func photographed(station, date string, names ...palette.Band) layers.Core {
	core := layers.Core{
		Station: station, Date: testbeds.Day(date),
		Photo: &layers.Photo{ColorDoubt: palette.DoubtCard, Light: palette.Light{EV: 0.1, EVDoubt: 0.48, Veil: 0.01, VeilDoubt: 0.015}},
	}
	for i, band := range []palette.Band{palette.MulmLight, palette.Rust, palette.Black, palette.Native} {
		layer := testbeds.Of(12, band)
		if layer.Band = palette.NoBand; i < len(names) {
			layer.Band = names[i]
		}
		core.Layers = append(core.Layers, layer)
	}
	return core
}

// taughtTank has photos of two stations with names, one without, and a typed core.
func taughtTank() layers.Tank {
	typed := layers.Core{Station: "front", Date: testbeds.Day("2026-02-15"), Layers: []layers.Layer{testbeds.Of(10, palette.MulmDark)}}
	return layers.Tank{ID: "t", Cores: []layers.Core{
		photographed("front", "2026-01-01", palette.MulmLight),
		photographed("left", "2026-01-01", palette.NoBand, palette.Rust),
		photographed("front", "2026-02-01", palette.MulmDark, palette.NoBand, palette.Unknown),
		typed,
		photographed("front", "2026-03-01"),
	}}
}

// What is taught depends on the records, not on their order.
func TestLearn_anyOrder(t *testing.T) {
	tank := taughtTank()
	want := Learn(tank, nil).List()
	if len(want.Colors) != 3 || len(want.Lights) == 0 {
		t.Fatalf("learned %v, want three colours and a light", want)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for range 5 {
		rng.Shuffle(len(tank.Cores), func(i, j int) { tank.Cores[i], tank.Cores[j] = tank.Cores[j], tank.Cores[i] })
		if got := Learn(tank, nil).List(); !reflect.DeepEqual(got, want) {
			t.Errorf("learned %v, in another order %v", want, got)
		}
	}
}

// Only the keeper's names of a reliable photo's layers teach, and a photo teaches nothing about itself.
func TestLearn_whoTeaches(t *testing.T) {
	unreliable := photographed("front", "2026-01-01", palette.MulmLight)
	unreliable.Photo.Unreliable, unreliable.Sure = true, true
	typed := photographed("front", "2026-01-01", palette.MulmLight)
	typed.Photo = nil
	next := photographed("front", "2026-02-01")
	untaught := Learn(layers.Tank{}, nil).Matcher(next)
	for name, core := range map[string]layers.Core{
		"unreliable":     unreliable,
		"typed":          typed,
		"without names":  photographed("front", "2026-01-01"),
		"nothing known":  photographed("front", "2026-01-01", palette.Unknown),
		"the core alone": photographed("front", "2026-02-01", palette.MulmLight),
	} {
		l := Learn(layers.Tank{Cores: []layers.Core{core}}, nil)
		if got := l.Matcher(next); !reflect.DeepEqual(got, untaught) {
			t.Errorf("%s: the matcher differs", name)
		}
		if by := l.TaughtBy(next); by != nil {
			t.Errorf("%s: taught by %v", name, *by)
		}
	}
}

// The light is that of the station, the colours are those of the tank.
func TestLessons_About(t *testing.T) {
	l := Learn(taughtTank(), nil)
	for station, want := range map[string]struct{ layers, lights, photos, here int }{
		"front": {3, 2, 3, 2}, "left": {3, 1, 3, 1}, "back": {3, 0, 3, 0},
	} {
		core := photographed(station, "2026-04-01")
		got, by := l.About(core), l.TaughtBy(core)
		if len(got.Layers) != want.layers || len(got.Light) != want.lights || by.Photos != want.photos || by.OfStation != want.here {
			t.Errorf("%s: %d layers, %d lights, taught by %+v; want %+v", station, len(got.Layers), len(got.Light), *by, want)
		}
	}
}

// A name that is taken back leaves what was there before, and one that is changed teaches the other band.
func TestLearn_takenBack(t *testing.T) {
	tank := taughtTank()
	next := photographed("front", "2026-04-01")
	before := Learn(tank, nil)
	tank.Cores = slices.Clone(tank.Cores)
	tank.Cores[4] = photographed("front", "2026-03-01", palette.Rust)
	if reflect.DeepEqual(Learn(tank, nil).Matcher(next), before.Matcher(next)) {
		t.Error("a wrong name taught nothing")
	}
	tank.Cores[4] = photographed("front", "2026-03-01")
	if !reflect.DeepEqual(Learn(tank, nil).Matcher(next), before.Matcher(next)) {
		t.Error("the matcher differs after the name was taken back")
	}
}

// The newest teach; a core that is one of them leaves room for the next.
func TestLearn_newest(t *testing.T) {
	var tank layers.Tank
	for day := range mostTeachers + 3 {
		core := photographed("front", "2026-01-01", palette.MulmLight)
		core.Date += layers.Date(day)
		tank.Cores = append(tank.Cores, core)
	}
	newest := tank.Cores[len(tank.Cores)-1]
	l := Learn(tank, nil)
	for name, core := range map[string]layers.Core{"the next": photographed("front", "2026-04-01"), "one of them": newest} {
		if got := l.About(core); len(got.Layers) != mostTeachers || len(got.Light) != mostTeachers {
			t.Errorf("%s: %d layers and %d lights, want %d", name, len(got.Layers), len(got.Light), mostTeachers)
		}
	}
	without := tank
	without.Cores = without.Cores[:len(tank.Cores)-1]
	if got, want := l.About(newest), Learn(without, nil).About(newest); !reflect.DeepEqual(got, want) {
		t.Errorf("a core filed is taught %v, before it was %v", got, want)
	}
}
