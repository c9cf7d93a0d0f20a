package bed_test

import (
	"math"
	"strings"
	"testing"

	"panecore/layers/bed"
)

// TestValidate_everyNumber: each number passes at both ends of its range, and outside or
// as no number at all it is told, with what is wanted. The ranges are assumptions.
func TestValidate_everyNumber(t *testing.T) {
	d := bed.Day{Column: vessel(bed.Still, 0.3)}
	column := &d.Column
	layer := &column.Bed.Layers[1]
	water := bed.Water{Volume: 0.05, Surface: 0.18, Transfer: 0.25, Oxygen: 8}
	hand := quarter(0.01)
	for _, field := range []struct {
		number    *float64
		low, high float64
		wanted    string
	}{
		{&layer.Thickness, 0, 10, "layer 2: found thickness %, want 0 to 10 m"},
		{&layer.Porosity, 0.05, 1, "layer 2: found porosity %, want 0.05 to 1"},
		{&layer.Demand, 0, 1e5, "layer 2: found oxygen demand %, want 0 to 100000 g O2/m³/d"},
		{&layer.Solids, 0, 3000, "layer 2: found dry matter %, want 0 to 3000 kg/m³"},
		{&layer.Ammonia, 0, 1000, "layer 2: found pore ammonia %, want 0 to 1000 mg N/L"},
		{&layer.Sulfide, 0, 1000, "layer 2: found pore sulphide %, want 0 to 1000 mg S/L"},
		{&layer.IronSulfide, 0, 1e4, "layer 2: found FeS %, want 0 to 10000 µmol/g"},
		{&column.Bed.Diffusivity, 5e-5, 5e-4, "found diffusivity %, want 5e-05 to 0.0005 m²/d"},
		{&column.Bed.Boundary, 0, 0.1, "found boundary layer %, want 0 to 0.1 m"},
		{&column.Bed.Reduced, 0, 100, "found reduced substances %, want 0 to 100 g O2/m²/d"},
		{&column.Saturation, 0, 100, "found oxygen saturation %, want 0 to 100 mg/L"},
		{&column.Transfer, 0.01, 100, "found gas transfer velocity %, want 0.01 to 100 m/d"},
		{&column.Mixing, 1e-5, 1e5, "found mixing %, want 1e-05 to 100000 m²/d"},
		{&column.Depth, 0.01, 100, "found water depth %, want 0.01 to 100 m"},
		{&column.Respiration, 0, 1e4, "found respiration %, want 0 to 10000 g O2/m³/d"},
		{&column.AreaRatio, 0, 10, "found area of the bed over that of the surface %, want 0 to 10"},
		{&d.LightsOn, 0, 24, "found lights on %, want 0 to 24 h"},
		{&d.LitHours, 0, 24, "found lit hours %, want 0 to 24 h"},
		{&d.PlantOxygen, 0, 1000, "found plant oxygen %, want 0 to 1000 g O2/m²/d"},
		{&d.Step, 0, 1.0 / 24, "found step %, want 0 to 0.041666666666666664 d"},
		{&water.Volume, 1e-5, 1e6, "found volume %, want 1e-05 to 1e+06 m³"},
		{&water.Surface, 1e-4, 1e5, "found surface %, want 0.0001 to 100000 m²"},
		{&water.Transfer, 0.01, 100, "found gas transfer velocity %, want 0.01 to 100 m/d"},
		{&water.Oxygen, 0, 100, "found oxygen %, want 0 to 100 mg/L"},
		{&hand.Footprint, 0, 1e4, "found footprint %, want 0 to 10000 m²"},
		{&hand.Share, 0, 1, "found share of the floor %, want 0 to 1"},
		{&hand.Depth, 0, 0.06, "found depth %, want 0 to 0.06 m"},
		{&hand.Reaching, 0, 1, "found share reaching the water %, want 0 to 1"},
		{&hand.Exchangeable, 0, 100, "found exchangeable over dissolved ammonium %, want 0 to 100"},
		{&hand.Desorbed, 0, 1, "found share desorbed %, want 0 to 1"},
	} {
		usual := *field.number
		faults := func(value float64) string {
			*field.number = value
			defer func() { *field.number = usual }()
			var told strings.Builder
			for _, err := range []error{d.Validate(), water.Validate(), hand.Validate(column.Bed.Layers)} {
				if err != nil {
					told.WriteString(err.Error() + "\n")
				}
			}
			return told.String()
		}
		begin, end, _ := strings.Cut(field.wanted, "%")
		for _, inside := range []float64{usual, field.low, field.high} {
			if told := faults(inside); strings.Contains(told, begin) {
				t.Errorf("%s%g: told %q", begin, inside, told)
			}
		}
		for _, outside := range []float64{field.low - 0.01, 1.01 * field.high, math.NaN(), math.Inf(1)} {
			told := faults(outside)
			if !strings.Contains(told, begin) || !strings.Contains(told, end+"\n") {
				t.Errorf("%s%g: told %q", begin, outside, told)
			}
		}
	}
}

// TestValidate_wholeDepth: a depth that is the sum of the layers passes, however the
// sum rounds.
func TestValidate_wholeDepth(t *testing.T) {
	layers := []bed.Layer{{Thickness: 0.1, Porosity: 1}, {Thickness: 0.2, Porosity: 1}}
	if err := quarter(0.3).Validate(layers); err != nil {
		t.Error(err)
	}
	layers[0], layers[1] = layers[1], layers[0]
	layers = append(layers, bed.Layer{Thickness: 0.3, Porosity: 1})
	if err := quarter(0.6).Validate(layers); err != nil {
		t.Error(err)
	}
}
