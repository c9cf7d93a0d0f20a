package bed_test

import (
	"math"
	"testing"

	"panecore/layers/bed"
)

// FuzzColumn: whatever Validate lets through, water, bed and day come out finite, not
// negative and no better than saturation and the plants can make them.
func FuzzColumn(f *testing.F) {
	f.Add(8.26, 0.25, 0.0864, 0.45, 0.5, 1.0, 2e-4, 8e-4, 0.1, 0.01, 0.95, 400.0, 0.05, 0.7, 200.0, 8.0, 10.0, 3.0)
	f.Add(8.26, 0.01, 1e-5, 100.0, 1e4, 10.0, 5e-4, 0.1, 100.0, 10.0, 1.0, 1e5, 0.0, 0.05, 0.0, 0.0, 0.0, 0.0)
	f.Add(0.0, 100.0, 1e5, 0.01, 0.0, 0.0, 5e-5, 0.0, 0.0, 0.0, 0.05, 0.0, 0.0, 1.0, 1e5, 24.0, 24.0, 1e3)
	f.Add(11.0, 30.0, 1e5, 39.1, 21.0, 8.0, 5e-5, 0.0, 93.0, 0.0, 0.05, 0.0, 5.0, 0.2, 1e5, 8.0, 24.0, 897.0) // next to no oxygen
	f.Fuzz(func(t *testing.T, saturation, transfer, mixing, depth, respiration, areas, diffusivity, boundary, reduced,
		h1, porosity1, demand1, h2, porosity2, demand2, on, lit, plants float64) {
		d := bed.Day{
			LightsOn: on, LitHours: lit, PlantOxygen: plants,
			Column: bed.Column{
				Saturation: saturation, Transfer: transfer, Mixing: mixing, Depth: depth, Respiration: respiration, AreaRatio: areas,
				Bed: bed.Bed{
					Layers: []bed.Layer{
						{Thickness: h1, Porosity: porosity1, Demand: demand1},
						{Thickness: h2, Porosity: porosity2, Demand: demand2},
					},
					Diffusivity: diffusivity, Boundary: boundary, Reduced: reduced,
				},
			},
		}
		if d.Validate() != nil {
			t.Skip()
		}
		c := d.Column
		p := c.Steady()
		soundProfile(t, c.Bed, p.Bed)
		sound(t, "surface", p.Surface, c.Saturation)
		sound(t, "bottom", p.Bottom, p.Surface)
		sound(t, "oxic water", p.Oxic, c.Depth)
		for i := range 5 {
			sound(t, "water", p.At(c.Depth*float64(i)/4), p.Surface)
		}
		soundProfile(t, c.Bed, c.Bed.Profile(saturation))
		sound(t, "under its surface", c.Under(saturation).Bottom, saturation)

		most := c.Saturation + d.PlantOxygen/c.Transfer
		course := d.Course()
		sound(t, "maximum", course.Maximum, most)
		sound(t, "minimum", course.Minimum, course.Maximum)
		sound(t, "mean", course.Mean, most)
		sound(t, "hour of the minimum", course.MinimumHour, 24)
		sound(t, "hour of the maximum", course.MaximumHour, 24)
		if kL, err := d.FitTransfer(course.Mean, on); err == nil {
			sound(t, "fit", kL, 100)
		}
	})
}

func soundProfile(t *testing.T, b bed.Bed, p bed.Profile) {
	t.Helper()
	var floor, demand float64
	for _, l := range b.Layers {
		floor += l.Thickness
		demand += l.Thickness * l.Demand
	}
	sound(t, "penetration", p.Penetration, floor)
	sound(t, "uptake", p.Uptake, demand+b.Reduced)
	sound(t, "bed surface", p.Surface, 100)
	sound(t, "floor", p.Floor, p.Surface)
	for i := range 5 {
		sound(t, "bed", p.At(floor*float64(i)/4), p.Surface)
	}
}

// FuzzRelease: whatever Validate lets through frees finite amounts and leaves no more
// oxygen than there was.
func FuzzRelease(f *testing.F) {
	f.Add(0.18, 0.25, 0.02, 1.0, 1.0, 0.5, 0.03, 0.7, 600.0, 8.0, 2.0, 40.0, 0.05, 0.18, 0.25, 8.0, 0.04)
	f.Add(1e4, 1.0, 10.0, 1.0, 100.0, 1.0, 10.0, 1.0, 3000.0, 1e3, 1e3, 1e4, 1e-5, 1e5, 100.0, 100.0, 1e3)
	f.Fuzz(func(t *testing.T, footprint, share, depth, reaching, exchangeable, desorbed,
		thickness, porosity, solids, ammonia, sulfide, ironSulfide, volume, surface, transfer, oxygen, days float64) {
		layers := []bed.Layer{{
			Thickness: thickness, Porosity: porosity, Solids: solids,
			Ammonia: ammonia, Sulfide: sulfide, IronSulfide: ironSulfide,
		}}
		d := bed.Disturbance{
			Footprint: footprint, Share: share, Depth: depth, Reaching: reaching, Exchangeable: exchangeable, Desorbed: desorbed,
		}
		w := bed.Water{Volume: volume, Surface: surface, Transfer: transfer, Oxygen: oxygen}
		if d.Validate(layers) != nil || w.Validate() != nil || !(0 <= days && days <= 1e6) {
			t.Skip()
		}
		r := d.Release(layers)
		in := r.In(w.Volume)
		for _, amount := range []float64{r.Ammonia, r.Sulfide, r.IronSulfide, in.Ammonia, in.Sulfide, in.IronSulfide, in.FullDebt} {
			sound(t, "amount", amount, math.MaxFloat64)
		}
		sound(t, "fast debt", r.FastDebt, r.FullDebt)
		sound(t, "oxygen left", w.OxygenAfter(r, days), w.Oxygen)
		dip, at := w.Dip(r, days)
		sound(t, "dip", dip, in.FullDebt)
		sound(t, "time of the dip", at, days)
	})
}

// FuzzWater: over the whole range that documents may hold, shares lie between 0 and 1
// and the rest is finite and positive.
func FuzzWater(f *testing.F) {
	f.Add(7.4, 24.0, 100.0)
	f.Add(4.0, 0.0, 0.0)
	f.Add(11.0, 45.0, 5000.0)
	f.Fuzz(func(t *testing.T, pH, celsius, altitude float64) {
		if !(4 <= pH && pH <= 11 && 0 <= celsius && celsius <= 45 && 0 <= altitude && altitude <= 9000) {
			t.Skip()
		}
		sound(t, "un-ionised share", bed.UnionisedShare(pH, celsius), 1)
		sound(t, "undissociated share", bed.UndissociatedShare(pH, celsius), 1)
		sound(t, "pressure", bed.PressureAt(altitude), 1)
		sound(t, "saturation", bed.OxygenSaturation(celsius, bed.PressureAt(altitude)), 15)
		sound(t, "acute limit", bed.AmmoniaAcuteLimit(pH, celsius), 100)
		sound(t, "chronic limit", bed.AmmoniaChronicLimit(pH, celsius), 100)
		for _, d := range []float64{
			bed.OxygenDiffusivity(celsius), bed.AmmoniumDiffusivity(celsius),
			bed.HydrosulfideDiffusivity(celsius), bed.HydrogenSulfideDiffusivity(celsius),
		} {
			sound(t, "diffusivity, m²/d", d, 1e-3)
		}
		sound(t, "demand", bed.DemandAt(100, celsius), 1000)
	})
}

// sound holds a number finite, not negative and no more than most, but for the last digits.
func sound(t *testing.T, what string, value, most float64) {
	t.Helper()
	if !(0 <= value && value <= most+1e-6+1e-6*min(most, 1e9)) {
		t.Errorf("%s is %g, want 0 to %g", what, value, most)
	}
}
