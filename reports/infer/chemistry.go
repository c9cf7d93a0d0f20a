package infer

import (
	"fmt"
	"iter"
	"math"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/palette"
	"panecore/reports"
)

// staleTemperatureDays is how old a water temperature may be and still count, days (assumption: the
// seasons of a room change it within a quarter).
const staleTemperatureDays = 90

// OxygenError is the standard deviation of a measured oxygen, mg/L: the ±0.6 of a drop
// kit or an unchecked probe taken as two of them (assumption).
const OxygenError = 0.3

// darkSoil is the lightness (L*) below which a native layer counts as soil, above it as sand, in a
// tank whose substrate is not given (assumption).
const darkSoil = 45

// Chemistry is the input to the physics of one tank, and one draw of it. Units are those of package
// bed: metres, days, mg/L.
type Chemistry struct {
	facts       *Facts
	Vessel      layers.Vessel
	Celsius     float64
	Saturation  float64
	diffusivity float64
	Measured    *OxygenTest // at dawn, before plants have added to it; nil: not measured then
	Ceiling     *OxygenTest // measured at another hour: the dark holds no more; nil: not measured
	lowPH       float64     // of the newest week; zero: not measured
	HighPH      float64
	Ammonia     *float64 // total, mg N/L; nil: not measured

	stations []station
	shapes   [bed.Soil + 1]shapes
	exchange [bed.Aerated + 1]exchangeShapes
	assumed  assumedShapes
	Draw     WaterDraw
}

// station is a core as a stack of materials.
type station struct {
	*Drawer
	native bed.Material
	stack  []bed.Layer
}

// WaterDraw is one draw of all that is not known about water and bed.
type WaterDraw struct {
	materials                        [bed.Soil + 1]bed.Layer // their thickness stays zero
	transfer, mixing, boundary       float64
	respiration, reduced             float64
	exchangeable, desorbed           float64
	SiphonReaching, sulfideLasts     float64
	measuredOxygen, pH, totalAmmonia float64 // errors of the readings
	Inputs                           inputs
}

// newChemistry gathers what the physics of a tank needs; the chemistry is nil if anything is missing,
// which is listed.
func newChemistry(tank layers.Tank, f *Facts, altitudeM float64, drawers []*Drawer) (c *Chemistry, missing []string) {
	c = &Chemistry{facts: f, Measured: f.Tests.Dawn, Ceiling: f.Tests.Ceiling}
	if a := f.Tests.Acid; a != nil {
		c.lowPH, c.HighPH = a.low, a.high
	}
	if a := f.Tests.Ammonia; a != nil {
		c.Ammonia, c.HighPH = &a.Total, max(c.HighPH, a.Swing)
	}
	if tank.Vessel == nil {
		missing = append(missing, "the vessel's measurements")
	}
	if f.Tests.Warmth == nil {
		missing = append(missing, fmt.Sprintf("a water temperature from the last %d days", staleTemperatureDays))
	}
	if missing != nil {
		return nil, missing
	}
	c.Vessel, c.Celsius = *tank.Vessel, f.Tests.Warmth.Celsius
	c.Saturation = bed.OxygenSaturation(c.Celsius, bed.PressureAt(altitudeM))
	c.diffusivity = bed.OxygenDiffusivity(c.Celsius)
	for m := range c.shapes {
		c.shapes[m] = newShapes(bed.Material(m))
	}
	for m := range c.exchange {
		c.exchange[m] = newExchangeShapes(bed.Motion(m))
	}
	c.assumed = newAssumedShapes()
	for _, d := range drawers {
		c.stations = append(c.stations, station{d, nativeMaterial(tank, d.Reading), nil})
	}
	return c, nil
}

// Physics is the tank's chemistry with drawers of its own, so that several can be drawn from one
// outlook at once. It is nil if anything is missing, which is listed.
func (o *Outlook) Physics(s reports.Settings) (c *Chemistry, missing []string) {
	return newChemistry(o.Tank, o.Facts, s.AltitudeM, o.Drawers(s.Seed))
}

// Draws rolls water and bed draw by draw and yields the number of each.
func (c *Chemistry) Draws(tank string, s reports.Settings) iter.Seq[int] {
	return func(yield func(int) bool) {
		rng := newDice(s.Seed, tank)
		for n := range s.Draws {
			rng.begin(n)
			still := c.facts.standsStill(rng)
			for _, station := range c.stations {
				station.stand(n)
			}
			c.roll(rng, still)
			if !yield(n) {
				return
			}
		}
	}
}

// StationCount is the number of stations.
func (c *Chemistry) StationCount() int { return len(c.stations) }

// ColumnAt is the draw's water above the bed of a station.
func (c *Chemistry) ColumnAt(station int) bed.Column {
	return c.column(c.stations[station].pile(&c.Draw))
}

// SolveAt is ColumnAt with its oxygen in the dark.
func (c *Chemistry) SolveAt(station int) (bed.Column, bed.ColumnProfile) {
	column := c.ColumnAt(station)
	return column, c.solve(column, &State{})
}

// nativeMaterial is what the tank's own substrate counts as.
func nativeMaterial(tank layers.Tank, r *Reading) bed.Material {
	for _, n := range tank.Native {
		switch n.Kind {
		case layers.Soil, layers.Clay, layers.Granules:
			return bed.Soil
		}
	}
	if len(tank.Native) > 0 {
		return bed.Sand
	}
	for i, name := range r.Names {
		if name == palette.Native && r.Core.Layers[i].Color.Lab().L < darkSoil {
			return bed.Soil
		}
	}
	return bed.Sand
}

// pile fills the station's stack from its names and edges. Mulm is loose at the top and settled
// below; a film counts as what lies above it.
func (s *station) pile(draw *WaterDraw) []bed.Layer {
	s.stack = s.stack[:0]
	mulm, last := 0.0, bed.LooseMulm
	for i, name := range s.Stood.Names {
		thickness := (s.Stood.edges[i+1] - s.Stood.edges[i]) * bed.Millimeter
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

func (s *station) add(draw *WaterDraw, m bed.Material, thickness float64) {
	if thickness > 0 {
		layer := draw.materials[m]
		layer.Thickness = thickness
		s.stack = append(s.stack, layer)
	}
}

// State is the oxygen of one draw.
type State struct {
	penetration float64 // mm, mean of the stations
	Bottom      float64 // mg/L in the dark, mean of the stations
	mixed       float64 // mg/L if the water were mixed
	transfer    float64 // m/d, fitted to a measured oxygen where there is one
}

// Settle solves the draw's water and bed in the dark.
func (c *Chemistry) Settle() State {
	s := State{transfer: c.Draw.transfer}
	n := float64(len(c.stations))
	for i := range c.stations {
		p := c.solve(c.ColumnAt(i), &s)
		s.penetration += p.Bed.Penetration / bed.Millimeter / n
		s.Bottom += p.Bottom / n
		s.mixed += mixed(p) / n
	}
	return s
}

// SettleMoved is Settle with the water moved in another way, for which measured oxygen does not
// hold.
func (c *Chemistry) SettleMoved(m bed.Motion) State {
	moved := *c
	moved.Measured, moved.Ceiling = nil, nil
	moved.move(m)
	return moved.Settle()
}

// column is the draw's water above a stack.
func (c *Chemistry) column(stack []bed.Layer) bed.Column {
	return bed.Column{
		Saturation: c.Saturation, Transfer: c.Draw.transfer, Mixing: c.Draw.mixing, Depth: c.Vessel.WaterDepthMM * bed.Millimeter,
		Respiration: c.Draw.respiration, AreaRatio: 1,
		Bed: bed.Bed{Layers: stack, Diffusivity: c.diffusivity, Boundary: c.Draw.boundary, Reduced: c.Draw.reduced},
	}
}

// solve is the column's steady oxygen. Oxygen measured at dawn replaces the model's, and at another
// hour only caps it; the transfer at the surface is then what balances it against bed and water.
func (c *Chemistry) solve(column bed.Column, s *State) bed.ColumnProfile {
	oxygen := math.Inf(1)
	if c.Measured != nil {
		oxygen = c.Read(c.Measured)
	} else if p := column.Steady(); c.Ceiling == nil || mixed(p) <= c.Read(c.Ceiling) {
		return p
	}
	if c.Ceiling != nil {
		oxygen = min(oxygen, c.Read(c.Ceiling))
	}
	p := column.Under(oxygen)
	if short := column.Saturation - oxygen; short > 0 {
		used := p.Bed.Uptake + column.Respiration*column.Depth
		s.transfer = min(max(used/short, leastTransfer), mostTransfer)
	}
	return p
}

// mixed is the oxygen that the water would have if it were mixed, mg/L.
func mixed(p bed.ColumnProfile) float64 { return (p.Surface + p.Bottom) / 2 }

// Read is the draw's true oxygen behind a measured one, mg/L.
func (c *Chemistry) Read(t *OxygenTest) float64 {
	return max(0, t.Oxygen+OxygenError*c.Draw.measuredOxygen)
}

// Basis is what the oxygen rests on.
func (c *Chemistry) Basis() reports.Basis {
	if c.Measured != nil {
		return reports.Fitted
	}
	return reports.Model
}

// The bounds of a fitted gas transfer velocity, m/d (assumption: stiller than still, and
// wilder than an air stone).
const (
	leastTransfer = 0.02
	mostTransfer  = 20
)

// motion is how the water moves; still counts where the flow is not given.
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
