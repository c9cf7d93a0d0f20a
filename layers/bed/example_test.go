package bed_test

import (
	"fmt"

	"panecore/layers/bed"
)

// A still, deep vessel at 25 °C: how far oxygen reaches, and what is left at the bottom.
func ExampleColumn_Steady() {
	still := bed.Still.Exchange()
	column := bed.Column{
		Saturation:  bed.OxygenSaturation(25, bed.PressureAt(0)),
		Transfer:    still.Transfer.Default,
		Mixing:      still.MixingDark.Default,
		Depth:       0.40,
		Respiration: bed.Assumed().Respiration.Default,
		AreaRatio:   1,
		Bed: bed.Bed{
			Layers:      []bed.Layer{bed.LooseMulm.Layer(bed.LooseDepth, 25), bed.Sand.Layer(60*bed.Millimeter, 25)},
			Diffusivity: bed.OxygenDiffusivity(25),
			Boundary:    still.Boundary.Default,
			Reduced:     bed.Assumed().Reduced.Default,
		},
	}
	p := column.Steady()
	fmt.Printf("surface %.1f, bottom %.1f mg/L, into the bed %.1f mm\n", p.Surface, p.Bottom, p.Bed.Penetration/bed.Millimeter)
	// Output: surface 4.9, bottom 4.7 mg/L, into the bed 1.0 mm
}

// A quarter of the floor stirred 20 mm deep, in 50 L.
func ExampleDisturbance_Release() {
	layers := []bed.Layer{bed.LooseMulm.Layer(bed.LooseDepth, 25), bed.BlackReduced.Layer(30*bed.Millimeter, 25)}
	hand := bed.Disturbance{
		Footprint: 0.18, Share: 0.25, Depth: 20 * bed.Millimeter, Reaching: bed.Stir.Reaching().Default,
		Exchangeable: bed.Assumed().Exchangeable.Default, Desorbed: bed.Assumed().Desorbed.Default,
	}
	freed := hand.Release(layers)
	water := bed.Water{Volume: 50 * bed.Liter, Surface: 0.18, Transfer: 0.25, Oxygen: 7}
	in := freed.In(water.Volume)
	fmt.Printf("total ammonia %.2f mg N/L, sulphide %.3f mg S/L\n", in.Ammonia, in.Sulfide)
	fmt.Printf("oxygen after an hour %.1f, after a day %.1f mg/L\n",
		water.OxygenAfter(freed, bed.Hour), water.OxygenAfter(freed, 24*bed.Hour))
	// Output:
	// total ammonia 0.10 mg N/L, sulphide 0.013 mg S/L
	// oxygen after an hour 5.4, after a day 4.8 mg/L
}
