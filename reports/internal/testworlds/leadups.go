package testworlds

import (
	"fmt"
	"math"
	"math/rand/v2"

	"panecore/layers"
	"panecore/palette"
)

// A Rise is how black swells up through a bed at the end of a healthy year.
type Rise struct {
	Days     int     // from its beginning until the front is at the surface
	Power    float64 // 1: steadily; above: faster and faster
	Every    int     // days between readings
	Stations int
}

// A LeadUp is a record that ends with the front at the surface.
type LeadUp struct {
	Record     layers.Tank
	Begin, End layers.Date // of the rise
}

// The colour oxic depth at which a rise begins, on average over the floor, and where it ends
// everywhere, mm.
const riseLow, riseHigh, riseEnd = 22, 28, 1

// Draw draws a lead-up: a year as in the first worlds, then the rust's lower edge moves up, through the
// rust and then the mulm; all that they lose turns black and nothing grows.
func (r Rise) Draw(rng *rand.Rand, id int) LeadUp {
	b := newBed(rng, World{Differ: 0.1 * float64(rng.IntN(3)), Months: year})
	begin := b.first + layers.Date(math.Round(year*layers.DaysPerMonth))
	if oxic := b.floor([]layers.Date{begin})[0].Oxic; oxic < riseLow || oxic > riseHigh {
		return r.Draw(rng, id)
	}
	l := LeadUp{Record: b.blank(rng, fmt.Sprint("lead-up ", id)), Begin: begin, End: begin + layers.Date(r.Days)}
	b.days = nil
	for day := b.first + layers.Date(rng.IntN(r.Every)); day <= l.End; day += layers.Date(r.Every) {
		b.days = append(b.days, day)
	}
	trouble, warm := rng.IntN(2) == 0, rng.IntN(2) == 0
	for i, name := range stations()[:r.Stations] {
		s := &b.spots[i]
		full := b.levels(s, []layers.Date{begin})[0]
		for _, day := range b.days {
			core := layers.Core{Date: day, Station: name}
			if day <= begin {
				core.Layers = b.keeper.reads(b.column(b.levels(s, []layers.Date{day})[0]))
			} else {
				risen := math.Pow(float64(day-begin)/float64(r.Days), r.Power)
				oxic := full.Oxic + (riseEnd-full.Oxic)*risen
				core.Layers = b.keeper.reads(cut([]part{
					{min(full.Mulm, oxic), b.mulmBand}, {oxic, palette.Rust}, {full.Oxic + b.black, palette.Black}, {full.Mulm + b.seen, palette.Native},
				}, full.Mulm+b.seen))
			}
			if trouble && day > l.End-lastDays && rng.IntN(2) == 0 {
				core.Signs = []layers.Sign{[]layers.Sign{layers.GasBubbles, layers.EggSmell, layers.PlantMelt}[rng.IntN(3)]}
			}
			l.Record.Cores = append(l.Record.Cores, core)
		}
	}
	if warm {
		day := max(begin, l.End-lastDays) + 1
		l.Record.Water = []layers.WaterTest{{
			Date: day, Time: "08:00", PH: new(6.8 + 0.6*rng.Float64()), TemperatureC: new(27 + 2*rng.Float64()), TotalAmmonia: new(0.2 + 0.5*rng.Float64()),
		}}
	}
	return l
}

// lastDays are the last weeks of a lead-up, in which signs show, days (assumption).
const lastDays = 35
