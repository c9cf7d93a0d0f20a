// Package testbeds holds tanks that tests tell of, with what changes them. Only tests import it.
package testbeds

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// BandColor are colours near the middle of each band's prototypes.
var BandColor = map[palette.Band]palette.Color{
	palette.MulmLight: {R: 0x8b, G: 0x6a, B: 0x48},
	palette.MulmDark:  {R: 0x50, G: 0x40, B: 0x2e},
	palette.Rust:      {R: 0xae, G: 0x69, B: 0x31},
	palette.Black:     {R: 0x3c, G: 0x3c, B: 0x38},
	palette.Grey:      {R: 0x7b, G: 0x79, B: 0x6e},
	palette.Native:    {R: 0xd9, G: 0xcb, B: 0xa6},
	palette.FilmGreen: {R: 0x4f, G: 0x7a, B: 0x3a},
	palette.MatWhite:  {R: 0xe4, G: 0xe2, B: 0xdb},
}

// Of is a labelled layer.
func Of(mm float64, band palette.Band) layers.Layer {
	return layers.Layer{ThicknessMM: mm, Color: BandColor[band], Band: band}
}

// TankOf is a two-year-old tank of sand, rooted by nothing, in moved water, that was
// read once a month at one station, each time with the given layers.
func TankOf(months int, column func(month int) []layers.Layer) layers.Tank {
	tank := layers.Tank{
		ID: "test", SetUp: Day("2024-06-01"), Flow: layers.Pumped, RootedPlants: new(false), Burrowers: new(false),
		Native: []layers.Native{{Name: "sand", Kind: layers.Sand, Color: BandColor[palette.Native]}},
	}
	for m := range months {
		tank.Cores = append(tank.Cores, layers.Core{
			Date: Day("2026-06-01") + layers.Date(m*30), Station: "front", Layers: column(m),
		})
	}
	return tank
}

// Steady is a tank whose five cores are alike.
func Steady(column ...layers.Layer) layers.Tank {
	return TankOf(5, func(int) []layers.Layer { return column })
}

// LastRead is the day of the newest core of Steady.
var LastRead = Day("2026-09-29")

// SandColumn is a healthy bed of sand under so much mulm, mm.
func SandColumn(mulm float64) []layers.Layer {
	return []layers.Layer{Of(mulm, palette.MulmLight), Of(4, palette.Rust), Of(10, palette.Black), Of(50, palette.Native)}
}

// SandBed is a tank of it.
func SandBed(mulm float64) layers.Tank { return Steady(SandColumn(mulm)...) }

// BareBed has a thin skin of clean sand over its black zone.
func BareBed(black float64) layers.Tank {
	return Steady(Of(2, palette.Native), Of(2, palette.Rust), Of(black, palette.Black), Of(40, palette.Native))
}

// Unnamed are layers without the keeper's own word: what they are must be told from colours.
func Unnamed(column ...layers.Layer) []layers.Layer {
	column = slices.Clone(column)
	for i := range column {
		column[i].Band = palette.NoBand
	}
	return column
}

// Told is a tank with changes.
func Told(tank layers.Tank, changes ...func(*layers.Tank)) layers.Tank {
	for _, change := range changes {
		tank.Cores = slices.Clone(tank.Cores)
		change(&tank)
	}
	return tank
}

// TellLimit sets a limit of the keeper's own.
func TellLimit(limit layers.Limit, value float64) func(*layers.Tank) {
	return func(t *layers.Tank) {
		limits := layers.Limits{limit: value}
		maps.Copy(limits, t.Limits)
		t.Limits = limits
	}
}

// TellSide has every core read alike at a second station, its signs aside.
func TellSide(t *layers.Tank) {
	for _, core := range slices.Clone(t.Cores) {
		core.Station, core.Signs = "side", nil
		t.Cores = append(t.Cores, core)
	}
}

// Wet is a tank of 50 L whose water was tested: a box of 600 × 300 mm.
func Wet(tank layers.Tank, flow layers.Flow, oxygen *float64) layers.Tank {
	return Told(tank, func(t *layers.Tank) {
		t.Flow = flow
		t.Vessel = &layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 300, WaterDepthMM: 280}
		t.Water = []layers.WaterTest{{
			Date: t.Cores[len(t.Cores)-1].Date, Time: "07:30", PH: new(7.2), TemperatureC: new(24.0), TotalAmmonia: new(0.1), OxygenMGPerL: oxygen,
		}}
	})
}

// HealthyBed is a tank with every layer in its place.
func HealthyBed() layers.Tank {
	return Steady(Of(12, palette.MulmLight), Of(4, palette.Rust), Of(30, palette.Black), Of(40, palette.Native))
}

// Few are settings with few draws.
func Few() reports.Settings { return reports.Settings{Draws: 200, Seed: reports.DefaultSeed} }

// Day is a day as YYYY-MM-DD.
func Day(s string) layers.Date {
	d, err := layers.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

// Typed is a layer as a keeper types it: whole millimetres, a colour near one of the
// band's prototypes.
func Typed(rng *rand.Rand, mm float64, band palette.Band, native palette.Color) layers.Layer {
	color := native
	if band != palette.Native {
		var list []palette.Prototype
		for _, p := range palette.Prototypes() {
			if p.Band == band {
				list = append(list, p)
			}
		}
		color = list[rng.IntN(len(list))].Color
	}
	shade := func(c uint8) uint8 { return uint8(min(255, max(0, float64(c)+5*rng.NormFloat64()))) }
	return layers.Layer{ThicknessMM: max(1, math.Round(mm)), Color: palette.Color{R: shade(color.R), G: shade(color.G), B: shade(color.B)}}
}

// Near fails unless got is within tolerance of the table's value.
func Near(t *testing.T, id string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: %.6f, want %.6f ± %g", id, got, want, tolerance)
	}
}

// Harmless are the rules that may be told beside "No limit is reached": they name no limit that is
// passed and nothing that is amiss.
func Harmless() []string {
	return []string{
		"young-bed", "siphoned-lately", "stirred-lately", "roots-below-the-front", "burrowers-at-work", "gas-without-smell", "rooted-bed",
		"bed-too-shallow", "oxygen-barely-enough", "oxygen-unknown", "oxygen-unknown-in-still-water", "stirring-frees-too-much", "siphoning-frees-too-much", "nothing-presses",
	}
}
