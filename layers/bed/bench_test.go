package bed_test

import (
	"testing"

	"panecore/layers/bed"
)

// deepColumn stands over eight layers of which oxygen passes seven.
func deepColumn() bed.Column {
	c := fixedDemand()
	c.Respiration = 0.1
	c.Bed = bed.Bed{Diffusivity: bed.OxygenDiffusivity(25), Boundary: 0.5 * bed.Millimeter, Reduced: 0.01}
	for range 8 {
		c.Bed.Layers = append(c.Bed.Layers, bed.Layer{Thickness: 1.3 * bed.Millimeter, Porosity: 0.8, Demand: 10})
	}
	return c
}

// BenchmarkProfile: eight layers, oxygen to the last. Wanted: 1 µs, no allocation.
func BenchmarkProfile(b *testing.B) {
	c := deepColumn()
	if p := c.Bed.Profile(6); p.Penetration < 7*1.3*bed.Millimeter {
		b.Fatalf("%+v: the benchmark passes too few layers", p)
	}
	b.ReportAllocs()
	for b.Loop() {
		c.Bed.Profile(6)
	}
}

func BenchmarkSteady(b *testing.B) {
	c := deepColumn()
	b.ReportAllocs()
	for b.Loop() {
		c.Steady()
	}
}

// stillDay is a day of a still tank on mulm: what most draws look like.
func stillDay() bed.Day {
	return bed.Day{Column: vessel(bed.Still, 0.28), LightsOn: 8, LitHours: 10, PlantOxygen: 1}
}

func BenchmarkCourse(b *testing.B) {
	for name, step := range map[string]float64{"fine": bed.FineStep, "coarse": bed.CoarseStep} {
		b.Run(name, func(b *testing.B) {
			d := stillDay()
			d.Step = step
			b.ReportAllocs()
			for b.Loop() {
				d.Course()
			}
		})
	}
}

func BenchmarkFitTransfer(b *testing.B) {
	d := stillDay()
	if kL, err := d.FitTransfer(5, 7.5); err != nil || kL < 0.1 {
		b.Fatal(kL, err)
	}
	b.ReportAllocs()
	for b.Loop() {
		d.FitTransfer(5, 7.5)
	}
}

func BenchmarkRelease(b *testing.B) {
	layers, d := mulmOnBlack(), quarter(20*bed.Millimeter)
	w := bed.Water{Volume: 0.05, Surface: 0.18, Transfer: 0.25, Oxygen: 8}
	b.ReportAllocs()
	for b.Loop() {
		r := d.Release(layers)
		w.OxygenAfter(r, bed.Hour)
		w.OxygenAfter(r, 24*bed.Hour)
	}
}
