package figure

import (
	"math"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// The layout of an oxygen profile, mm (assumptions: fits on paper side by side and is still
// readable on a phone).
const (
	oxygenWidth   = 122.0 // the picture's width
	oxygenNames   = 26.0  // width of the names on the left
	oxygenRulerX  = 37.0  // right end of the depths
	oxygenLeft    = 39.5  // left end of the gauge
	oxygenRight   = 88.0
	oxygenWordsX  = 92.5 // left end of the words on the right
	oxygenWater   = 36.0 // height of the water
	oxygenBed     = 36.0 // height of the bed, at most
	oxygenLabel   = 7.2  // from one label to the next: two lines
	oxygenLine    = 5.2  // height of a number below the profile
	oxygenLines   = 7.8  // height of one with two lines of words
	oxygenHeading = 5.8  // height of a heading over numbers
)

// Oxygen draws oxygen in the dark against depth, the bed on a larger scale than the water
// above it. Below, on the same gauge, stand the day's least and most oxygen and what would
// help at the bottom.
func Oxygen(x reports.OxygenProfile, u layers.Units) *pen.Figure {
	name := words.TankName(x.ID, x.Name) + ": oxygen in the dark"
	o := oxygenPicture{Figure: pen.NewFigure(name, oxygenWidth), x: x, units: u}
	o.part()
	o.Desc = o.description()
	o.gauge = gauge{oxygenLeft, oxygenRight, o.share()}
	o.top = o.Heading(name, readWords(x.AsOf, o.estimates())+". Bands and bars: 90 % range.", words.OxygenVerdict(o.x)) + pen.Leading*pen.SmallSize + 0.6
	o.scale()
	o.panels()
	o.verticals()
	o.curve()
	o.penetration()
	o.labels()
	o.Notes(o.rows(o.axis())+1.5, o.remarks())
	return o.Figure
}

type oxygenPicture struct {
	*pen.Figure
	x     reports.OxygenProfile
	units layers.Units
	gauge gauge   // of oxygen, mg/L
	most  float64 // at the gauge's end, mg/L

	water, bed           []reports.OxygenPoint
	waterDepth, bedDepth float64 // deepest points, mm
	top, joint, foot     float64 // places of the water's and the bed's surface and of the bed's end, mm
	enlarged             float64 // the bed's scale over the water's
}

// beyondSaturation is where the gauge ends, over saturation (assumption). It goes further, up
// to twice saturation, if plants or a wide range lead there.
const beyondSaturation = 1.08

// share is the gauge of oxygen from 0.
func (o *oxygenPicture) share() func(x float64) float64 {
	o.most = max(1, beyondSaturation*o.x.Saturation, beyondSaturation*o.x.Limit)
	for _, e := range o.estimates() {
		if e != nil {
			o.most = max(o.most, min(1.02*e.High, 2*o.x.Saturation))
		}
	}
	return func(x float64) float64 { return x / o.most }
}

// estimates are all the oxygen that is drawn.
func (o *oxygenPicture) estimates() []*reports.Estimate {
	list := []*reports.Estimate{o.x.Dawn.Oxygen, o.x.Dusk.Oxygen}
	for _, p := range o.x.Points {
		list = append(list, p.Oxygen)
	}
	for _, h := range o.x.Helps {
		list = append(list, h.Bottom)
	}
	return list
}

// part sorts the points into those of the water and of the bed.
func (o *oxygenPicture) part() {
	for _, p := range o.x.Points {
		if p.Where == "bed" {
			o.bed, o.bedDepth = append(o.bed, p), max(o.bedDepth, p.DepthMM)
		} else {
			o.water, o.waterDepth = append(o.water, p), max(o.waterDepth, p.DepthMM)
		}
	}
}

// scale sets the scales of depth: the bed is enlarged by a round number.
func (o *oxygenPicture) scale() {
	o.joint = o.top + oxygenWater
	o.foot = o.joint
	if o.bedDepth == 0 || o.waterDepth == 0 {
		return
	}
	alike := o.bedDepth * oxygenWater / o.waterDepth // the bed's height at the water's scale
	most := oxygenBed / alike
	power := math.Pow(10, math.Floor(math.Log10(most)))
	for _, digits := range []float64{1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10} {
		if digits*power <= most*(1+1e-9) {
			o.enlarged = digits * power
		}
	}
	o.foot += alike * o.enlarged
}

// inWater is the place of a depth below the water's surface.
func (o *oxygenPicture) inWater(mm float64) float64 {
	return down(mm, o.waterDepth, o.top, o.joint)
}

// inBed is the place of a depth below the bed's surface.
func (o *oxygenPicture) inBed(mm float64) float64 {
	return down(mm, o.bedDepth, o.joint, o.foot)
}

// down is the place of a depth in a panel that shows depths down to deepest.
func down(mm, deepest, top, foot float64) float64 {
	if deepest == 0 {
		return top
	}
	return top + min(1, mm/deepest)*(foot-top)
}

// place is the height of a point of the profile, mm.
func (o *oxygenPicture) place(p reports.OxygenPoint) float64 {
	if p.Where == "bed" {
		return o.inBed(p.DepthMM)
	}
	return o.inWater(p.DepthMM)
}
