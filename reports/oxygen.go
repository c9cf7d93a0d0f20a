package reports

import (
	"cmp"
	"fmt"
	"math"

	"panecore/layers"
	"panecore/layers/bed"
)

// OxygenFormat names the JSON form of an OxygenProfile.
const OxygenFormat = "panecore-oxygen/1"

// OxygenProfile is the oxygen from the water surface down into the bed.
type OxygenProfile struct {
	Format       string          `json:"format"`
	ID           string          `json:"id"`
	Name         string          `json:"name"`
	AsOf         layers.Date     `json:"as_of"`
	TemperatureC float64         `json:"temperature_c"`
	Saturation   float64         `json:"saturation_mg_l"`
	Limit        float64         `json:"limit_mg_l"`
	Points       []OxygenPoint   `json:"profile"` // in the dark, top to bottom
	Penetration  *Estimate       `json:"oxygen_penetration_mm"`
	OxicWater    *Estimate       `json:"oxic_water_mm"` // depth of water that holds oxygen
	Dawn         OxygenMoment    `json:"dawn"`
	Dusk         OxygenMoment    `json:"dusk"`
	Helps        []OxygenMeasure `json:"measures"` // what would help most first
	Notices      []string        `json:"notices"`
}

// OxygenPoint is the oxygen at a place of the profile.
type OxygenPoint struct {
	Where   string    `json:"where"`    // "water" or "bed"
	DepthMM float64   `json:"depth_mm"` // below the water's or the bed's surface
	Oxygen  *Estimate `json:"oxygen_mg_l"`
}

// OxygenMoment is the water's oxygen at an hour of the day.
type OxygenMoment struct {
	Hour   float64   `json:"hour"`
	Oxygen *Estimate `json:"oxygen_mg_l"`
}

// OxygenMeasure is what another way of moving the water would do at the bottom.
type OxygenMeasure struct {
	Name   string    `json:"name"`
	Bottom *Estimate `json:"bottom_oxygen_mg_l"`
	Gain   *Estimate `json:"gain_mg_l"`
}

// Lights are when a tank is lit and what its plants give off meanwhile.
type Lights struct {
	On          float64 // hour of the clock
	Hours       float64
	PlantOxygen float64 // g O2 a day per m² of water surface, while lit
}

// The defaults of Lights (assumptions; plants' oxygen is counted only where it is told).
const (
	DefaultLightsOn = 8
	DefaultLitHours = 10
)

// Where the profile is told: shares of the water's depth, and depths in the bed, mm.
var (
	waterShares = [...]float64{0, 0.25, 0.5, 0.75, 1}
	bedDepths   = [...]float64{0, 0.5, 1, 1.5, 2, 3, 5, 10}
)

// dayEvery says of how many draws one runs through a day, which takes a thousand times
// as long as the rest.
const dayEvery = 50

// oxygenDraws are the draws of a profile.
type oxygenDraws struct {
	water                 [len(waterShares)][]float64
	bed                   [len(bedDepths)][]float64
	penetration, oxic     []float64
	dawn, dusk            []float64
	bubbledBottom, pumped []float64
	bubbledGain, pumpGain []float64
}

// Oxygen works out the oxygen profile of a tank as last read. Its error is an [InputError].
func Oxygen(tank layers.Tank, s Settings, lights Lights) (OxygenProfile, error) {
	return newOutlook(tank, s).oxygen(s, lights)
}

// oxygen is Oxygen for a tank that has been read.
func (o *outlook) oxygen(s Settings, lights Lights) (OxygenProfile, error) {
	o, drawers, err := o.physical(s)
	if err != nil {
		return OxygenProfile{}, err
	}
	c := o.chemistry
	rng := newDice(s.Seed, o.tank.ID)
	var d oxygenDraws
	for n := range s.Draws {
		rng.begin(n)
		still := o.standsStill(rng)
		for _, drawer := range drawers {
			drawer.stand(n)
		}
		c.roll(rng, still)
		d.profile(c)
		if n%dayEvery == 0 {
			d.day(c, lights)
		}
	}
	return d.tell(o, lights), nil
}

// profile notes one draw: the mean of the stations at every place.
func (d *oxygenDraws) profile(c *chemistry) {
	var water [len(waterShares)]float64
	var inBed [len(bedDepths)]float64
	var penetration, oxic float64
	state := state{transfer: c.draw.transfer}
	n := float64(len(c.stations))
	for i := range c.stations {
		column := c.column(c.stations[i].pile(&c.draw))
		p := c.solve(column, &state)
		for j, share := range waterShares {
			water[j] += p.At(share*column.Depth) / n
		}
		for j, depth := range bedDepths {
			inBed[j] += p.Bed.At(depth*bed.Millimeter) / n
		}
		penetration += p.Bed.Penetration / bed.Millimeter / n
		oxic += p.Oxic / bed.Millimeter / n
	}
	for j := range water {
		d.water[j] = append(d.water[j], water[j])
	}
	for j := range inBed {
		d.bed[j] = append(d.bed[j], inBed[j])
	}
	d.penetration, d.oxic = append(d.penetration, penetration), append(d.oxic, oxic)
	bottom := water[len(water)-1]
	bubbled, pumped := c.settleMoved(bed.Aerated).bottom, c.settleMoved(bed.Rippled).bottom
	d.bubbledBottom, d.bubbledGain = append(d.bubbledBottom, bubbled), append(d.bubbledGain, bubbled-bottom)
	d.pumped, d.pumpGain = append(d.pumped, pumped), append(d.pumpGain, pumped-bottom)
}

// day notes a draw's day at its first station.
func (d *oxygenDraws) day(c *chemistry, lights Lights) {
	day := bed.Day{
		Column: c.column(c.stations[0].pile(&c.draw)), LightsOn: lights.On, LitHours: lights.Hours, PlantOxygen: lights.PlantOxygen, Step: bed.CoarseStep,
	}
	if m := c.measured; m != nil {
		transfer, err := day.FitTransfer(c.read(m), m.hour())
		if err != nil { // a bed and plants of this draw that the reading speaks against
			return
		}
		day.Column.Transfer = transfer
	}
	course := day.Course()
	if m := c.ceiling; m != nil && course.At(m.hour()) > c.read(m) {
		transfer, err := day.FitTransfer(c.read(m), m.hour())
		if err != nil {
			return
		}
		day.Column.Transfer = transfer
		course = day.Course()
	}
	d.dawn, d.dusk = append(d.dawn, course.Minimum), append(d.dusk, course.Maximum)
}

func (d *oxygenDraws) tell(o *outlook, lights Lights) OxygenProfile {
	c := o.chemistry
	told := func(draws []float64) *Estimate {
		e := spread(draws)
		e.Basis = c.basis()
		return e.rounded(oxygenDigits)
	}
	out := OxygenProfile{
		Format: OxygenFormat, ID: o.tank.ID, Name: cmp.Or(o.tank.Name, o.tank.ID), AsOf: o.asOf,
		TemperatureC: c.celsius, Saturation: round(c.saturation, oxygenDigits), Limit: o.limits[layers.LimitOxygen].value,
		Penetration: told(d.penetration), OxicWater: told(d.oxic),
		Dawn: OxygenMoment{Hour: lights.On}, Dusk: OxygenMoment{Hour: math.Mod(lights.On+lights.Hours, 24)},
		Helps: []OxygenMeasure{
			{"an air stone", told(d.bubbledBottom), told(d.bubbledGain)},
			{"a pump that ripples the surface", told(d.pumped), told(d.pumpGain)},
		},
		Notices: []string{},
	}
	if len(d.dawn) > 0 {
		out.Dawn.Oxygen, out.Dusk.Oxygen = told(d.dawn), told(d.dusk)
	} else {
		out.Notices = append(out.Notices, "The measured oxygen speaks against that much oxygen from plants: dawn and dusk are not known.")
	}
	if out.Helps[1].Gain.Value > out.Helps[0].Gain.Value {
		out.Helps[0], out.Helps[1] = out.Helps[1], out.Helps[0]
	}
	for i, share := range waterShares {
		out.Points = append(out.Points, OxygenPoint{"water", round(share*c.vessel.WaterDepthMM, lengthDigits), told(d.water[i])})
	}
	floor := o.floorMM()
	for i, depth := range bedDepths {
		if depth <= floor {
			out.Points = append(out.Points, OxygenPoint{"bed", depth, told(d.bed[i])})
		}
	}
	if lights.PlantOxygen == 0 {
		out.Notices = append(out.Notices, "What plants give off while lit is not told and counts as none: dawn and dusk are alike. The profile is that of the dark.")
	}
	if c.measured != nil {
		out.Notices = append(out.Notices, fmt.Sprintf("Fitted to the %.1f mg/L measured on %s.", c.measured.oxygen, c.measured.date))
	} else {
		out.Notices = append(out.Notices, "Modelled to a factor of about two: how fast a surface lets oxygen in is a guess. One oxygen measured before the lights come on would settle it.")
	}
	return out
}

// Bottom is the oxygen at the bottom of the water in the dark; nil: not known.
func (x OxygenProfile) Bottom() (bottom *Estimate) {
	for _, p := range x.Points {
		if p.Where == "water" {
			bottom = p.Oxygen
		}
	}
	return bottom
}
