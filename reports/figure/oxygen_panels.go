package figure

import (
	"slices"
	"strings"

	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// Opacities and grain of the background (assumptions: just visible).
const (
	bedTone    = 0.16
	bedGrain   = 0.3
	bandTone   = 0.24
	shortTone  = 0.07
	gridTone   = 0.6
	bedPitch   = 2.4 // mm between grains
	grainSmall = 0.14
)

// hair is a thin line that something is read off.
var hair = pen.Stroke{Ink: pen.InkHair.Faint(gridTone), Width: 0.2}

// panels draws the water and the bed with a ruler each.
func (o *oxygenPicture) panels() {
	width := float64(oxygenRight - oxygenLeft)
	o.Rect(oxygenLeft, o.top, width, o.joint-o.top, pen.InkWater)
	if limit, _ := o.gauge.at(o.x.Limit); limit > oxygenLeft {
		o.Rect(oxygenLeft, o.top, limit-oxygenLeft, o.joint-o.top, pen.InkLimit.Faint(shortTone))
	}
	o.Rect(oxygenLeft, o.joint, width, o.foot-o.joint, pen.InkMulm.Faint(bedTone))
	if grains := (pen.Box{Left: oxygenLeft, Top: o.joint, Right: oxygenRight, Foot: o.foot}).Inset(0.6).Lattice(bedPitch); len(grains) > 0 {
		o.Dots(pen.InkMulm.Faint(bedGrain), grainSmall, grains...)
	}
	for _, x := range o.steps() {
		o.Line(hair, pen.At(x, o.top), pen.At(x, o.foot))
	}
	surface := pen.Stroke{Ink: pen.InkSoft, Width: 0.35}
	o.Line(surface, pen.At(oxygenLeft, o.top), pen.At(oxygenRight, o.top))
	o.Line(surface, pen.At(oxygenLeft, o.joint), pen.At(oxygenRight, o.joint))
	o.ruler(o.waterDepth, o.top, o.joint, true)
	o.ruler(o.bedDepth, o.joint, o.foot, false)
	o.name(o.top, "water, "+words.Depth(o.units, o.waterDepth), "from its surface down")
	if o.bedDepth > 0 {
		o.name(o.joint, "bed, top "+words.Depth(o.units, o.bedDepth), o.enlargedWords())
	}
}

// enlargedWords say how the two scales differ.
func (o *oxygenPicture) enlargedWords() string {
	if o.enlarged == 0 {
		return "from its surface down"
	}
	times := words.Number(o.enlarged, 1)
	return "depths drawn " + strings.TrimSuffix(times, ".0") + " times as large as in the water"
}

// name writes a panel's name beside its top.
func (o *oxygenPicture) name(top float64, what, how string) {
	lines := append([]pen.Said{{Text: what, How: pen.Usual.Strong()}}, o.Wrapped(how, oxygenNames, pen.Small)...)
	o.Stack(pen.Margin, top+pen.HeightOf(lines)/2, oxygenNames, lines...)
}

// ruler draws depths from a surface down. The upper one leaves out numbers that would touch
// the lower one's first.
func (o *oxygenPicture) ruler(depth, top, foot float64, upper bool) {
	if depth == 0 {
		return
	}
	scale := (foot - top) / depth
	major, minor := pen.TicksOf(o.units, 6/scale, 0.9/scale)
	mark := pen.Stroke{Ink: pen.InkSoft, Width: 0.2}
	const edge = oxygenLeft - 0.4
	var marks [][]pen.Point
	for n := 0; float64(n)*minor.MM <= depth*(1+1e-9); n++ {
		mm := float64(n) * minor.MM
		y, long := top+mm*scale, 0.7
		if n%major.Count(minor) == 0 {
			long = 1.4
			if !upper || y < foot-pen.Leading*pen.SmallSize {
				text := major.Words(mm)
				if n == 0 {
					text += " " + o.units.String()
				}
				o.Text(oxygenRulerX, y+pen.Capitals/2*pen.SmallSize, text, pen.Small.To(pen.UpToHere))
			}
		}
		marks = append(marks, []pen.Point{pen.At(edge-long, y), pen.At(edge, y)})
	}
	o.Lines(mark, marks...)
}

// verticals draws the limit and the saturation, which are the water's, down to the bed.
func (o *oxygenPicture) verticals() {
	limit, beyond := o.gauge.at(o.x.Limit)
	if beyond == 0 {
		o.limitLine(limit, o.top-0.8, o.joint)
	}
	text := "should never be less than " + words.Number(o.x.Limit, 1) + " mg/L"
	how := pen.Small.InInk(pen.InkLimit)
	x := min(max(limit-o.Length(text, how)/2, oxygenLeft), oxygenWidth-pen.Margin-o.Length(text, how))
	o.Text(x, o.top-0.8-pen.Descent*pen.SmallSize-0.2, text, how)
	if saturation, beyond := o.gauge.at(o.x.Saturation); beyond == 0 {
		o.Line(pen.Stroke{Ink: pen.InkSoft, Width: 0.3}, pen.At(saturation, o.top), pen.At(saturation, o.joint))
	}
}

// limitLine draws the limit between two heights.
func (o *oxygenPicture) limitLine(x, from, to float64) {
	o.Line(pen.Stroke{Ink: pen.InkLimit, Width: 0.4, Dash: 1.6, Gap: 1}, pen.At(x, from), pen.At(x, to))
}

// curveWidth is of the profile's line, mm.
const curveWidth = 0.6

// curve draws the profile: a band over the 90 % ranges and a line. It has no dots, since no
// point of it was measured, and is broken where oxygen is not known.
func (o *oxygenPicture) curve() {
	var ranges, medians [][]pen.Point
	for _, part := range append(known(o.water), known(o.bed)...) {
		var line, low, high []pen.Point
		for _, p := range part {
			y := o.place(p)
			l, _ := o.gauge.at(p.Oxygen.Low)
			v, _ := o.gauge.at(p.Oxygen.Value)
			h, _ := o.gauge.at(p.Oxygen.High)
			low, line, high = append(low, pen.At(l, y)), append(line, pen.At(v, y)), append(high, pen.At(h, y))
		}
		slices.Reverse(low)
		ranges, medians = append(ranges, append(high, low...)), append(medians, line)
	}
	for _, outline := range ranges {
		o.Area(pen.InkOxic.Faint(bandTone), outline...)
	}
	o.film()
	o.Lines(pen.Stroke{Ink: pen.InkOxic, Width: curveWidth}, medians...)
	for _, line := range medians {
		if len(line) == 1 { // a line without length would not show
			o.Dots(pen.InkOxic, curveWidth/2, line[0])
		}
	}
}

// known are the runs of points whose oxygen is known.
func known(points []reports.OxygenPoint) (runs [][]reports.OxygenPoint) {
	open := false
	for _, p := range points {
		switch {
		case p.Oxygen == nil:
			open = false
			continue
		case !open:
			runs, open = append(runs, nil), true
		}
		runs[len(runs)-1] = append(runs[len(runs)-1], p)
	}
	return runs
}

// film joins the water's last oxygen to the bed's first. The step is what the film of still
// water between them holds back, which is thinner than a line.
func (o *oxygenPicture) film() {
	above, below := o.x.Bottom(), o.bedSurface()
	if above == nil || below == nil {
		return
	}
	from, _ := o.gauge.at(above.Value)
	to, _ := o.gauge.at(below.Value)
	o.Line(pen.Stroke{Ink: pen.InkOxic, Width: 0.45, Dash: 0.6, Gap: 0.6}, pen.At(from, o.joint), pen.At(to, o.joint))
}

// bedSurface is the oxygen on the bed, under the film; nil: not known.
func (o *oxygenPicture) bedSurface() *reports.Estimate {
	if len(o.bed) == 0 || o.bed[0].DepthMM > 0 {
		return nil
	}
	return o.bed[0].Oxygen
}

// The places of the brackets, near the right edge, mm.
const (
	oxygenBracketX      = oxygenRight - 3.0 // in the bed
	oxygenWaterBracketX = oxygenRight - 6.5
)

// penetration draws where oxygen ends in the bed, and in the water where it ends there.
func (o *oxygenPicture) penetration() {
	if e := o.x.Penetration; e != nil && len(o.bed) > 0 {
		o.Group("oxygen ends in the bed at "+o.depth(*e), func() { o.ends(oxygenBracketX, *e, o.inBed, o.bedDepth) })
	}
	if e := o.oxicWater(); e != nil {
		o.Group("water that holds oxygen: "+o.depth(*e), func() { o.ends(oxygenWaterBracketX, *e, o.inWater, o.waterDepth) })
	}
}

// oxicWater is how deep oxygen reaches in the water; nil: all the way, or not known.
func (o *oxygenPicture) oxicWater() *reports.Estimate {
	if e := o.x.OxicWater; e != nil && len(o.water) > 0 && e.Low < o.waterDepth {
		return e
	}
	return nil
}

// ends draws a depth's range as a bracket, joined to the end of the curve.
func (o *oxygenPicture) ends(x float64, e reports.Estimate, place func(mm float64) float64, depth float64) {
	const reach = 1.0
	s := pen.Stroke{Ink: pen.InkOxic, Width: 0.55}
	low, high, value := place(e.Low), place(e.High), place(e.Value)
	o.Line(pen.Stroke{Ink: pen.InkOxic, Width: 0.25, Dash: 0.9, Gap: 0.7}, pen.At(oxygenLeft, value), pen.At(x, value))
	across := func(y float64) []pen.Point { return []pen.Point{pen.At(x-reach, y), pen.At(x+reach, y)} }
	bracket := [][]pen.Point{across(low), {pen.At(x, low), pen.At(x, high)}}
	if e.High > depth || e.AtLeast { // it goes on below the panel
		bracket = append(bracket, []pen.Point{pen.At(x-reach, high-1.3*reach), pen.At(x, high), pen.At(x+reach, high-1.3*reach)})
	} else {
		bracket = append(bracket, across(high))
	}
	o.Lines(s, bracket...)
	if e.Value <= depth {
		o.Dots(pen.InkOxic, 0.85, pen.At(x, value))
	}
}
