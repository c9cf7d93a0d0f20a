package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// knownTank is a simulated tank with its truth.
type knownTank struct {
	tank  layers.Tank
	oxic  float64 // mean over the floor on the last day, mm
	rate  float64 // of the mulm, mm a month
	shift float64 // of the front, mm a month
}

// drawTank draws a tank of sand with mulm, a rust front, a black zone and the sand
// below it, read monthly at two or three stations. Stations differ as stations are
// assumed to; a reading strays by 1 mm and is typed to the millimetre.
func drawTank(rng *rand.Rand, id int) knownTank {
	sand := palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}
	k := knownTank{rate: 0.3 + 2.7*rng.Float64()}
	k.tank = layers.Tank{
		ID: fmt.Sprint("tank ", id), SetUp: testbeds.Day("2023-01-01"), Flow: layers.Livestock,
		Native: []layers.Native{{Name: "sand", Kind: layers.Sand, Color: sand}},
	}
	months := 8 + rng.IntN(24)
	start := 3 + 10*rng.Float64()
	front := 4 + 4*rng.Float64()
	growing := 0.4 * (rng.Float64() - 0.5)
	k.shift = k.rate + growing
	first := testbeds.Day("2023-02-01")
	stations := []string{"front", "left", "right"}[:2+rng.IntN(2)]
	k.oxic = start + front + k.shift*float64(months-1)
	for _, station := range stations {
		mulmOff := rng.NormFloat64() * (0.3 + 0.05*(start+k.rate*float64(months)))
		frontOff := rng.NormFloat64() * 0.3
		for m := range months {
			date := first + layers.Date(math.Round(float64(m)*layers.DaysPerMonth))
			t := first.Months(date)
			mulm := start + k.rate*t + mulmOff + rng.NormFloat64()
			rust := front + growing*t + frontOff + 0.5*rng.NormFloat64()
			k.tank.Cores = append(k.tank.Cores, layers.Core{Date: date, Station: station, Layers: []layers.Layer{
				testbeds.Typed(rng, mulm, palette.MulmLight, sand), testbeds.Typed(rng, rust, palette.Rust, sand),
				testbeds.Typed(rng, 25, palette.Black, sand), testbeds.Typed(rng, 40, palette.Native, sand),
			}})
		}
	}
	return k
}

// TestInterpret_intervalsHoldTheTruth: of 500 simulated tanks, 85 to 95 % of the 90 %
// intervals of the colour oxic depth and the rates hold the truth.
func TestInterpret_intervalsHoldTheTruth(t *testing.T) {
	count := 500
	if testing.Short() {
		count = 150
	}
	rng := rand.New(rand.NewPCG(500, 1))
	var known []knownTank
	var tanks []layers.Tank
	for i := range count {
		k := drawTank(rng, i)
		known, tanks = append(known, k), append(tanks, k.tank)
	}
	found := Interpret(slices.Values(tanks), reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed})
	for _, c := range []struct {
		name  string
		truth func(knownTank) float64
		of    func(reports.Tank) *reports.Estimate
	}{
		{"colour oxic depth", func(k knownTank) float64 { return k.oxic }, func(t reports.Tank) *reports.Estimate { return t.OxicDepth }},
		{"accumulation", func(k knownTank) float64 { return k.rate }, func(t reports.Tank) *reports.Estimate { return t.Accumulation }},
		{"front shift", func(k knownTank) float64 { return k.shift }, func(t reports.Tank) *reports.Estimate { return t.FrontShift }},
	} {
		var held int
		var width float64
		for i, tank := range found.Tanks {
			e, truth := c.of(tank), c.truth(known[i])
			if e.Low <= truth && truth <= e.High {
				held++
			}
			width += (e.High - e.Low) / float64(len(found.Tanks))
		}
		share := 100 * float64(held) / float64(len(known))
		t.Logf("%-18s %5.1f %% of the 90 %% intervals hold the truth, mean width %.2f", c.name, share, width)
		if share < 85 || share > 95 {
			t.Errorf("%s: %.1f %% held, want 85 to 95 %%", c.name, share)
		}
	}
}
