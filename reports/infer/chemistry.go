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

// staleTemperatureDays is how old a reading of the water's temperature may be and still
// speak of the tank, days (assumption: a room's seasons move it within a quarter).
const staleTemperatureDays = 90

// OxygenError is the standard deviation of a measured oxygen, mg/L: the ±0.6 of a drop
// kit or an unchecked probe taken as two of them (assumption).
const OxygenError = 0.3

// darkSoil is the lightness (L*) below which a native layer of a tank that tells no
// substrate is taken for soil, above it for sand (assumption).
const darkSoil = 45

// Chemistry is what the physics of one tank stands on, and one draw of it. Units are
// those of package bed: metres, days, mg/L.
type Chemistry struct {
	facts       *Facts
	Vessel      layers.Vessel
	Celsius     float64
	Saturation  float64
	diffusivity float64
	Measured    *OxygenTest // before plants had added to it; nil: not measured so
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

// WaterDraw is one draw of all that is not known of water and bed.
type WaterDraw struct {
	materials                        [bed.Soil + 1]bed.Layer // their thickness stays zero
	transfer, mixing, boundary       float64
	respiration, reduced             float64
	exchangeable, desorbed           float64
	SiphonReaching, sulfideLasts     float64
	measuredOxygen, pH, totalAmmonia float64 // errors of the readings
	Inputs                           inputs
}

// newChemistry gathers what the physics of a tank needs; where something is missing it
// says what, and the chemistry is nil.
func newChemistry(tank layers.Tank, f *Facts, altitudeM float64, drawers []*Drawer) (c *Chemistry, missing []string) {
	c = &Chemistry{facts: f, Measured: f.Tests.Dawn, Ceiling: f.Tests.Ceiling}
	if a := f.Tests.Acid; a != nil {
		c.lowPH, c.HighPH = a.low, a.high
	}
	if a := f.Tests.Ammonia; a != nil {
		c.Ammonia, c.HighPH = &a.Total, max(c.HighPH, a.Swing)
	}
	if tank.Vessel == nil {
		missing = append(missing, "the vessel's measures")
	}
	if f.Tests.Warmth == nil {
		missing = append(missing, fmt.Sprintf("a water temperature of the last %d days", staleTemperatureDays))
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

// Physics is the tank's chemistry with drawers of its own, so that several may be drawn from
// one outlook at once; where something is missing it says what, and the chemistry is nil.
func (o *Outlook) Physics(s reports.Settings) (c *Chemistry, missing []string) {
	return newChemistry(o.Tank, o.Facts, s.AltitudeM, o.Drawers(s.Seed))
}

// Draws rolls water and bed for one draw after the other, of which it yields the numbers.
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

// StationCount is how many cores the tank's bed is known from.
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

// nativeMaterial is what a tank's own substrate counts as.
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

// pile fills the station's stack from its names and edges. Mulm is loose in its top
// and settled below; a film counts as what lies above it, what matches nothing as
// native.
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
	mixed       float64 // mg/L if the water were mixed as it stands
	transfer    float64 // m/d, fitted to a measured oxygen where there is one
}

// Settle solves water and bed of a draw, in the dark.
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

// SettleMoved is settle with the water moved in another way: what was measured as it was
// no longer holds.
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

// solve gives the column's steady oxygen. An oxygen measured before plants had added to it
// stands for the water's, one of another hour only where the model would have more; the
// transfer at the surface is what balances it against bed and water.
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

// mixed is the water's oxygen, mg/L, if it were mixed as it stands.
func mixed(p bed.ColumnProfile) float64 { return (p.Surface + p.Bottom) / 2 }

// Read is the draw's truth behind a measured oxygen, mg/L.
func (c *Chemistry) Read(t *OxygenTest) float64 {
	return max(0, t.Oxygen+OxygenError*c.Draw.measuredOxygen)
}

// Basis is what the oxygen stands on.
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
