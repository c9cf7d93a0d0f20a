package layers

import (
	"math"

	"panecore/layers/jsonio"
)

// Vessel is the tank's shape, inside measures in millimetres.
type Vessel struct {
	Shape        Shape
	LengthMM     float64 // box only
	WidthMM      float64 // box only
	DiameterMM   float64 // cylinder only
	WaterDepthMM float64
}

var vesselTable = tableOf(checkMeasures,
	field("shape", oneWord(shapes), func(v *Vessel) *Shape { return &v.Shape }).needed(),
	field("length_mm", size(vesselRange), func(v *Vessel) *float64 { return &v.LengthMM }),
	field("width_mm", size(vesselRange), func(v *Vessel) *float64 { return &v.WidthMM }),
	field("diameter_mm", size(vesselRange), func(v *Vessel) *float64 { return &v.DiameterMM }),
	field("water_depth_mm", size(vesselRange), func(v *Vessel) *float64 { return &v.WaterDepthMM }).needed(),
)

// checkMeasures compares the measures given with those of the shape.
func checkMeasures(d *Decoder, o jsonio.Object, v *Vessel) {
	if v.Shape == "" || d.in.Stopped() {
		return
	}
	want := "length_mm, width_mm and water_depth_mm for a box"
	if v.Shape == Cylinder {
		want = "diameter_mm and water_depth_mm for a cylinder"
	}
	for _, name := range []string{"length_mm", "width_mm", "diameter_mm"} {
		switch needed := (name == "diameter_mm") == (v.Shape == Cylinder); {
		case needed && o.Lacks(name):
			d.in.ReportField(name, "nothing", want)
		case !needed && o.Has(name):
			d.in.ReportField(name, "a measure of another shape", want)
		}
	}
}

// FitsVessel reports whether a document takes a length, mm, for a measure of a vessel.
func FitsVessel(mm float64) bool { return vesselRange.Holds(mm) }

// Shape is the vessel's form.
type Shape string

// The shapes.
const (
	Box      Shape = "box"
	Cylinder Shape = "cylinder"
)

var shapes = []Shape{Box, Cylinder}

// FootprintM2 is the area of the vessel's floor, m².
func (v Vessel) FootprintM2() float64 {
	if v.Shape == Cylinder {
		radius := v.DiameterMM / 2000
		return math.Pi * radius * radius
	}
	return v.LengthMM / 1000 * v.WidthMM / 1000
}

// WaterM3 is the volume of the vessel's water, m³.
func (v Vessel) WaterM3() float64 { return v.FootprintM2() * v.WaterDepthMM / 1000 }
