package bed

import (
	"errors"
	"fmt"
	"math"
)

// The ranges of the Validate methods, in which the fuzz tests hold every result, are
// assumptions: wider than any tank, narrower than a wrong unit.

// Validate says, a line each, what of the bed is out of range.
func (b Bed) Validate() error {
	return errors.Join(
		validLayers(b.Layers),
		inRange("diffusivity", b.Diffusivity, 5e-5, 5e-4, " m²/d"),
		inRange("boundary layer", b.Boundary, 0, 0.1, " m"),
		inRange("reduced substances", b.Reduced, 0, 100, " g O2/m²/d"),
	)
}

// Validate says, a line each, what of the column and its bed is out of range.
func (c Column) Validate() error {
	return errors.Join(
		inRange("oxygen saturation", c.Saturation, 0, 100, " mg/L"),
		inRange("gas transfer velocity", c.Transfer, 0.01, 100, " m/d"),
		inRange("mixing", c.Mixing, 1e-5, 1e5, " m²/d"),
		inRange("water depth", c.Depth, 0.01, 100, " m"),
		inRange("respiration", c.Respiration, 0, 1e4, " g O2/m³/d"),
		inRange("area of the bed over that of the surface", c.AreaRatio, 0, 10, ""),
		c.Bed.Validate(),
	)
}

// Validate says, a line each, what of the day and its column is out of range.
func (d Day) Validate() error {
	return errors.Join(
		inRange("lights on", d.LightsOn, 0, 24, " h"),
		inRange("lit hours", d.LitHours, 0, 24, " h"),
		inRange("plant oxygen", d.PlantOxygen, 0, 1e3, " g O2/m²/d"),
		inRange("step", d.Step, 0, 1*Hour, " d"),
		d.Column.Validate(),
	)
}

// Validate says, a line each, what of the disturbance of a bed of layers is out of range.
func (d Disturbance) Validate(layers []Layer) error {
	var floor float64
	for _, l := range layers {
		floor += l.Thickness
	}
	depth := d.Depth
	if math.Abs(depth-floor) < 1e-9 { // m: the same depth by another sum
		depth = floor
	}
	return errors.Join(
		inRange("footprint", d.Footprint, 0, 1e4, " m²"),
		inRange("share of the floor", d.Share, 0, 1, ""),
		inRange("depth", depth, 0, floor, " m"),
		inRange("share reaching the water", d.Reaching, 0, 1, ""),
		inRange("exchangeable over dissolved ammonium", d.Exchangeable, 0, 100, ""),
		inRange("share desorbed", d.Desorbed, 0, 1, ""),
		validLayers(layers),
	)
}

// Validate says, a line each, what of the water is out of range.
func (w Water) Validate() error {
	return errors.Join(
		inRange("volume", w.Volume, 1e-5, 1e6, " m³"),
		inRange("surface", w.Surface, 1e-4, 1e5, " m²"),
		inRange("gas transfer velocity", w.Transfer, 0.01, 100, " m/d"),
		inRange("oxygen", w.Oxygen, 0, 100, " mg/L"),
	)
}

func validLayers(layers []Layer) error {
	var faults []error
	for i, l := range layers {
		for _, fault := range l.faults() {
			if fault != nil {
				faults = append(faults, fmt.Errorf("layer %d: %w", i+1, fault))
			}
		}
	}
	return errors.Join(faults...)
}

func (l *Layer) faults() [7]error {
	return [...]error{
		inRange("thickness", l.Thickness, 0, 10, " m"),
		inRange("porosity", l.Porosity, 0.05, 1, ""),
		inRange("oxygen demand", l.Demand, 0, 1e5, " g O2/m³/d"),
		inRange("dry matter", l.Solids, 0, 3000, " kg/m³"),
		inRange("pore ammonia", l.Ammonia, 0, 1e3, " mg N/L"),
		inRange("pore sulphide", l.Sulfide, 0, 1e3, " mg S/L"),
		inRange("FeS", l.IronSulfide, 0, 1e4, " µmol/g"),
	}
}

func inRange(quantity string, value, low, high float64, unit string) error {
	if low <= value && value <= high {
		return nil
	}
	return fmt.Errorf("found %s %g%s, want %g to %g%s", quantity, value, unit, low, high, unit)
}
