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
	measured    *oxygenTest // before plants had added to it; nil: not measured so
	ceiling     *oxygenTest // measured at another hour: the dark holds no more; nil: not measured
	lowPH       float64     // of the newest week; zero: not measured
	highPH      float64
	ammonia     *float64 // total, mg N/L; nil: not measured

	stations []station
	shapes   [bed.Soil + 1]shapes
	exchange [bed.Aerated + 1]exchangeShapes
	assumed  assumedShapes
	draw     waterDraw
}

// station is a core as a stack of materials.
type station struct {
	*drawer
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
func newChemistry(tank layers.Tank, f *facts, altitudeM float64, drawers []*drawer) (c *chemistry, missing []string) {
	c = &chemistry{flow: tank.Flow, measured: f.tests.dawn, ceiling: f.tests.ceiling}
	if a := f.tests.acid; a != nil {
		c.lowPH, c.highPH = a.low, a.high
	}
	if a := f.tests.ammonia; a != nil {
		c.ammonia, c.highPH = &a.total, max(c.highPH, a.swing)
	}
	if tank.Vessel == nil {
		missing = append(missing, "the vessel's measures")
	}
	if f.tests.warmth == nil {
		missing = append(missing, fmt.Sprintf("a water temperature of the last %d days", staleTemperatureDays))
	}
	if missing != nil {
		return nil, missing
	}
	c.vessel, c.celsius = *tank.Vessel, f.tests.warmth.celsius
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
		c.stations = append(c.stations, station{d, nativeMaterial(tank, d.reading), nil})
	}
	return c, nil
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
	for i, name := range s.stood.names {
		thickness := (s.stood.edges[i+1] - s.stood.edges[i]) * bed.Millimeter
		switch name.Material() {
		case palette.Detritus:
			loose := min(thickness, max(0, bed.LooseDepth-mulm))
			mulm += thickness
			s.add(draw, bed.LooseMulm, loose)
			last, thickness = bed.SettledMulm, thickness-loose
		case palette.IronOxide:
			last = bed.RustFront
		case palette.IronSulphide:
			last = bed.BlackReduced
		case palette.Gley:
			last = bed.GreyReduced
		case palette.Substrate:
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
		s.mixed += mixed(p) / n
	}
	return s
}

// settleMoved is settle with the water moved in another way: what was measured as it was
// no longer holds.
func (c *chemistry) settleMoved(m bed.Motion) state {
	moved := *c
	moved.measured, moved.ceiling = nil, nil
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

// solve gives the column's steady oxygen. An oxygen measured before plants had added to it
// stands for the water's, one of another hour only where the model would have more; the
// transfer at the surface is what balances it against bed and water.
func (c *chemistry) solve(column bed.Column, s *state) bed.ColumnProfile {
	oxygen := math.Inf(1)
	if c.measured != nil {
		oxygen = c.read(c.measured)
	} else if p := column.Steady(); c.ceiling == nil || mixed(p) <= c.read(c.ceiling) {
		return p
	}
	if c.ceiling != nil {
		oxygen = min(oxygen, c.read(c.ceiling))
	}
	p := column.Under(oxygen)
	if short := column.Saturation - oxygen; short > 0 {
		used := p.Bed.Uptake + column.Respiration*column.Depth
		s.transfer = min(max(used/short, leastTransfer), mostTransfer)
	}
	return p
}

// mixed is the water's oxygen, mg/L, if it were mixed as it stands.
func mixed(p bed.ColumnProfile) float64 { return (p.Surface + p.Bottom) / 2 }

// read is the draw's truth behind a measured oxygen, mg/L.
func (c *chemistry) read(t *oxygenTest) float64 {
	return max(0, t.oxygen+oxygenError*c.draw.measuredOxygen)
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
