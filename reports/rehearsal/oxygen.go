package rehearsal

import (
	"cmp"
	"fmt"
	"math"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/stats"
)

// The places of the profile: shares of the water's depth, and depths in the bed, mm.
var (
	waterShares = [...]float64{0, 0.25, 0.5, 0.75, 1}
	bedDepths   = [...]float64{0, 0.5, 1, 1.5, 2, 3, 5, 10}
)

// dayEvery is of how many draws one runs through a day, which takes a thousand times as long as the
// rest.
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

// Oxygen works out the oxygen profile of a tank that has been read. Its error is an
// [InputError].
func Oxygen(o *infer.Outlook, s reports.Settings, lights reports.Lights) (reports.OxygenProfile, error) {
	c, lacking := physical(o, s)
	if lacking != nil {
		return reports.OxygenProfile{}, lacking
	}
	var d oxygenDraws
	for n := range c.Draws(o.Tank.ID, s) {
		d.profile(c)
		if n%dayEvery == 0 {
			d.day(c, lights)
		}
	}
	return d.result(o, c, lights), nil
}

// profile adds one draw: the mean of the stations at every place.
func (d *oxygenDraws) profile(c *infer.Chemistry) {
	var water [len(waterShares)]float64
	var inBed [len(bedDepths)]float64
	var penetration, oxic float64
	n := float64(c.StationCount())
	for i := range c.StationCount() {
		column, p := c.SolveAt(i)
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
	bubbled, pumped := c.SettleMoved(bed.Aerated).Bottom, c.SettleMoved(bed.Rippled).Bottom
	d.bubbledBottom, d.bubbledGain = append(d.bubbledBottom, bubbled), append(d.bubbledGain, bubbled-bottom)
	d.pumped, d.pumpGain = append(d.pumped, pumped), append(d.pumpGain, pumped-bottom)
}

// day adds a draw's day at the first station.
func (d *oxygenDraws) day(c *infer.Chemistry, lights reports.Lights) {
	day := bed.Day{
		Column: c.ColumnAt(0), LightsOn: lights.On, LitHours: lights.Hours, PlantOxygen: lights.PlantOxygen, Step: bed.CoarseStep,
	}
	if m := c.Measured; m != nil {
		transfer, err := day.FitTransfer(c.Read(m), m.Hour())
		if err != nil { // the reading rules out this draw's bed and plants
			return
		}
		day.Column.Transfer = transfer
	}
	course := day.Course()
	if m := c.Ceiling; m != nil && course.At(m.Hour()) > c.Read(m) {
		transfer, err := day.FitTransfer(c.Read(m), m.Hour())
		if err != nil {
			return
		}
		day.Column.Transfer = transfer
		course = day.Course()
	}
	d.dawn, d.dusk = append(d.dawn, course.Minimum), append(d.dusk, course.Maximum)
}

// result turns the draws into the profile.
func (d *oxygenDraws) result(o *infer.Outlook, c *infer.Chemistry, lights reports.Lights) reports.OxygenProfile {
	estimate := func(draws []float64) *reports.Estimate {
		e := stats.Spread(draws)
		e.Basis = c.Basis()
		return e.Rounded(reports.OxygenDigits)
	}
	out := reports.OxygenProfile{
		Format: reports.OxygenFormat, ID: o.Tank.ID, Name: cmp.Or(o.Tank.Name, o.Tank.ID), AsOf: o.AsOf,
		TemperatureC: c.Celsius, Saturation: reports.Round(c.Saturation, reports.OxygenDigits), Limit: o.Limit(layers.LimitOxygen),
		Penetration: estimate(d.penetration), OxicWater: estimate(d.oxic),
		Dawn: reports.OxygenMoment{Hour: lights.On}, Dusk: reports.OxygenMoment{Hour: math.Mod(lights.On+lights.Hours, 24)},
		Helps: []reports.OxygenMeasure{
			{Name: "an air stone", Bottom: estimate(d.bubbledBottom), Gain: estimate(d.bubbledGain)},
			{Name: "a pump that ripples the surface", Bottom: estimate(d.pumped), Gain: estimate(d.pumpGain)},
		},
		Notices: []string{},
	}
	if len(d.dawn) > 0 {
		out.Dawn.Oxygen, out.Dusk.Oxygen = estimate(d.dawn), estimate(d.dusk)
	} else {
		out.Notices = append(out.Notices, "The measured oxygen rules out that much oxygen from plants: dawn and dusk are not known.")
	}
	if out.Helps[1].Gain.Value > out.Helps[0].Gain.Value {
		out.Helps[0], out.Helps[1] = out.Helps[1], out.Helps[0]
	}
	for i, share := range waterShares {
		out.Points = append(out.Points, reports.OxygenPoint{Where: "water", DepthMM: reports.Round(share*c.Vessel.WaterDepthMM, reports.LengthDigits), Oxygen: estimate(d.water[i])})
	}
	floor := o.FloorMM()
	for i, depth := range bedDepths {
		if depth <= floor {
			out.Points = append(out.Points, reports.OxygenPoint{Where: "bed", DepthMM: depth, Oxygen: estimate(d.bed[i])})
		}
	}
	if lights.PlantOxygen == 0 {
		out.Notices = append(out.Notices, "The oxygen that plants give off while lit is not given and counts as none, so dawn and dusk are alike. The profile is for the dark.")
	}
	if c.Measured != nil {
		out.Notices = append(out.Notices, fmt.Sprintf("Fitted to the %.1f mg/L measured on %s.", c.Measured.Oxygen, c.Measured.Date))
	} else {
		out.Notices = append(out.Notices, "Modelled to within a factor of about two: how fast the surface lets oxygen in is a guess. Oxygen measured before the lights come on would settle it.")
	}
	return out
}
