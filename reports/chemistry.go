package reports

import (
	"fmt"
	"math"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/palette"
)

// staleTemperatureDays is how old a reading of the water's temperature may be and still
// speak of the tank, days (assumption: a room's seasons move it within a quarter).
const staleTemperatureDays = 90

// oxygenError is the standard deviation of a measured oxygen, mg/L: the ±0.6 of a drop
// kit or an unchecked probe taken as two of them (assumption).
const oxygenError = 0.3

// latestDawn is the hour up to which a measured oxygen is taken for the night's, before
// plants have added to it (assumption).
const latestDawn = 10

// darkSoil is the lightness (L*) below which a native layer of a tank that tells no
// substrate is taken for soil, above it for sand (assumption).
const darkSoil = 45

// chemistry is what the physics of one tank stands on, and one draw of it. Units are
// those of package bed: metres, days, mg/L.
type chemistry struct {
	vessel      layers.Vessel
	celsius     float64
	saturation  float64
	diffusivity float64
	flow        layers.Flow
	measured    *measured // oxygen; nil: not measured, or not at night
	lowPH       float64   // of the last weeks; zero: not measured
	highPH      float64
	ammonia     *float64 // total, mg N/L; nil: not measured

	stations []station
	shapes   [bed.Soil + 1]shapes
	exchange [bed.Aerated + 1]exchangeShapes
	assumed  assumedShapes
	draw     waterDraw
}

// measured is an oxygen reading, mg/L, at an hour of the clock.
type measured struct {
	date   layers.Date
	hour   float64
	oxygen float64
}

// station is a core as a stack of materials.
type station struct {
	drawer
	native bed.Material
	stack  []bed.Layer
}

// waterDraw is one draw of all that is not known of water and bed.
type waterDraw struct {
	materials                        [bed.Soil + 1]bed.Layer // their thickness stays zero
	transfer, mixing, boundary       float64
	respiration, reduced             float64
	exchangeable, desorbed           float64
	siphonReaching, sulfideLasts     float64
	measuredOxygen, pH, totalAmmonia float64 // errors of the readings
	inputs                           inputs
}

// newChemistry gathers what the physics of a tank needs; where something is missing it
// says what, and the chemistry is nil.
func newChemistry(tank layers.Tank, asOf layers.Date, altitudeM float64, drawers []drawer) (c *chemistry, missing []string) {
	c = &chemistry{celsius: math.NaN(), flow: tank.Flow}
	var newest layers.Date
	for _, w := range tank.Water {
		age := asOf - w.Date
		if w.TemperatureC != nil && age <= staleTemperatureDays && w.Date >= newest {
			newest, c.celsius = w.Date, *w.TemperatureC
		}
		if age <= staleWaterDays {
			c.take(w)
		}
	}
	if tank.Vessel == nil {
		missing = append(missing, "the vessel's measures")
	}
	if math.IsNaN(c.celsius) {
		missing = append(missing, fmt.Sprintf("a water temperature of the last %d days", staleTemperatureDays))
	}
	if missing != nil {
		return nil, missing
	}
	c.vessel = *tank.Vessel
	c.saturation = bed.OxygenSaturation(c.celsius, bed.PressureAt(altitudeM))
	c.diffusivity = bed.OxygenDiffusivity(c.celsius)
	for m := range c.shapes {
		c.shapes[m] = newShapes(bed.Material(m))
	}
	for m := range c.exchange {
		c.exchange[m] = newExchangeShapes(bed.Motion(m))
	}
	c.assumed = newAssumedShapes()
	for _, d := range drawers {
		c.stations = append(c.stations, station{d, nativeMaterial(tank, d.reading), make([]bed.Layer, 0, len(d.names)+1)})
	}
	return c, nil
}

// take notes what a water test of the last weeks says.
func (c *chemistry) take(w layers.WaterTest) {
	if w.PH != nil {
		if c.lowPH == 0 || *w.PH < c.lowPH {
			c.lowPH = *w.PH
		}
		c.highPH = max(c.highPH, *w.PH)
	}
	if w.TotalAmmonia != nil {
		c.ammonia = w.TotalAmmonia
	}
	if w.OxygenMGPerL != nil && (c.measured == nil || w.Date >= c.measured.date) && byNight(w.Time) {
		c.measured = &measured{w.Date, hourOfClock(w.Time), *w.OxygenMGPerL}
	}
}

// byNight reports whether a time of day, HH:MM or none, lies before plants have made
// oxygen. A reading without a time is taken for one, as the cautious way.
func byNight(clock string) bool { return hourOfClock(clock) < latestDawn }

// hourOfClock is HH:MM as hours; no time counts as the hour at which the lights come on.
func hourOfClock(clock string) float64 {
	var hour, minute int
	if n, err := fmt.Sscanf(clock, "%d:%d", &hour, &minute); n != 2 || err != nil {
		return DefaultLightsOn
	}
	return float64(hour) + float64(minute)/60
}

// nativeMaterial is what a tank's own substrate counts as.
func nativeMaterial(tank layers.Tank, r *reading) bed.Material {
	for _, n := range tank.Native {
		switch n.Kind {
		case layers.Soil, layers.Clay, layers.Granules:
			return bed.Soil
		}
	}
	if len(tank.Native) > 0 {
		return bed.Sand
	}
	for i, name := range r.names {
		if name == palette.Native && r.core.Layers[i].Color.Lab().L < darkSoil {
			return bed.Soil
		}
	}
	return bed.Sand
}

// pile fills the station's stack from its names and edges. Mulm is loose in its top
// and settled below; a film counts as what lies above it, what matches nothing as
// native.
func (s *station) pile(draw *waterDraw) []bed.Layer {
	s.stack = s.stack[:0]
	mulm, last := 0.0, bed.LooseMulm
	for i, name := range s.names {
		thickness := (s.edges[i+1] - s.edges[i]) * bed.Millimeter
		switch {
		case name.IsMulm():
			loose := min(thickness, max(0, bed.LooseDepth-mulm))
			mulm += thickness
			s.add(draw, bed.LooseMulm, loose)
			last, thickness = bed.SettledMulm, thickness-loose
		case name == palette.Rust:
			last = bed.RustFront
		case name == palette.Black:
			last = bed.BlackReduced
		case name == palette.Grey:
			last = bed.GreyReduced
		case name == palette.Native || name == palette.Unknown:
			last = s.native
		}
		s.add(draw, last, thickness)
	}
	return s.stack
}

func (s *station) add(draw *waterDraw, m bed.Material, thickness float64) {
	if thickness > 0 {
		layer := draw.materials[m]
		layer.Thickness = thickness
		s.stack = append(s.stack, layer)
	}
}

// state is the oxygen of one draw.
type state struct {
	penetration float64 // mm, mean of the stations
	bottom      float64 // mg/L in the dark, mean of the stations
	mixed       float64 // mg/L if the water were mixed as it stands
	transfer    float64 // m/d, fitted to a measured oxygen where there is one
}

// settle solves water and bed of a draw, in the dark.
func (c *chemistry) settle() (s state) {
	s.transfer = c.draw.transfer
	n := float64(len(c.stations))
	for i := range c.stations {
		column := c.column(c.stations[i].pile(&c.draw))
		p := c.solve(column, &s)
		s.penetration += p.Bed.Penetration / bed.Millimeter / n
		s.bottom += p.Bottom / n
		s.mixed += (p.Surface + p.Bottom) / 2 / n
	}
	return s
}

// settleMoved is settle with the water moved in another way: what was measured as it was
// no longer holds.
func (c *chemistry) settleMoved(m bed.Motion) state {
	moved := *c
	moved.measured = nil
	moved.move(m)
	return moved.settle()
}

// column is the draw's water above a stack.
func (c *chemistry) column(stack []bed.Layer) bed.Column {
	return bed.Column{
		Saturation: c.saturation, Transfer: c.draw.transfer, Mixing: c.draw.mixing, Depth: c.vessel.WaterDepthMM * bed.Millimeter,
		Respiration: c.draw.respiration, AreaRatio: 1,
		Bed: bed.Bed{Layers: stack, Diffusivity: c.diffusivity, Boundary: c.draw.boundary, Reduced: c.draw.reduced},
	}
}

// solve gives the column's steady oxygen. A measured oxygen stands for the water's, and
// the transfer at the surface is what balances it against bed and water.
func (c *chemistry) solve(column bed.Column, s *state) bed.ColumnProfile {
	if c.measured == nil {
		return column.Steady()
	}
	oxygen := c.readOxygen()
	p := column.Under(oxygen)
	if short := column.Saturation - oxygen; short > 0 {
		used := p.Bed.Uptake + column.Respiration*column.Depth
		s.transfer = min(max(used/short, leastTransfer), mostTransfer)
	}
	return p
}

// readOxygen is the draw's truth behind the measured oxygen, mg/L.
func (c *chemistry) readOxygen() float64 {
	return max(0, c.measured.oxygen+oxygenError*c.draw.measuredOxygen)
}

// basis is what the oxygen stands on.
func (c *chemistry) basis() Basis {
	if c.measured != nil {
		return Fitted
	}
	return Model
}

// The bounds of a fitted gas transfer velocity, m/d (assumption: stiller than still, and
// wilder than an air stone).
const (
	leastTransfer = 0.02
	mostTransfer  = 20
)

// motion is how the water moves; flow that is not told is still in half the draws.
func motion(flow layers.Flow, still bool) bed.Motion {
	switch {
	case flow == layers.Bubbled:
		return bed.Aerated
	case flow == layers.Pumped:
		return bed.Rippled
	case flow == layers.Still || flow == "" && still:
		return bed.Still
	}
	return bed.Gentle
}
