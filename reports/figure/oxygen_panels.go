package figure

import (
	"strings"

	"panecore/reports"
	"panecore/reports/words"
)

// Strengths of what lies behind the numbers (assumption: seen, and no more).
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
var hair = stroke{ink: inkHair.faint(gridTone), width: 0.2}

// panels draws the water and the bed with a ruler each.
func (o *oxygenPicture) panels() {
	width := float64(oxygenRight - oxygenLeft)
	o.rect(oxygenLeft, o.top, width, o.joint-o.top, inkWater)
	if limit, _ := o.gauge.at(o.x.Limit); limit > oxygenLeft {
		o.rect(oxygenLeft, o.top, limit-oxygenLeft, o.joint-o.top, inkLimit.faint(shortTone))
	}
	o.rect(oxygenLeft, o.joint, width, o.foot-o.joint, inkMulm.faint(bedTone))
	if grains := (box{oxygenLeft, o.joint, oxygenRight, o.foot}).inset(0.6).lattice(bedPitch); len(grains) > 0 {
		o.dots(inkMulm.faint(bedGrain), grainSmall, grains...)
	}
	for _, x := range o.steps() {
		o.line(hair, point{x, o.top}, point{x, o.foot})
	}
	surface := stroke{ink: inkSoft, width: 0.35}
	o.line(surface, point{oxygenLeft, o.top}, point{oxygenRight, o.top})
	o.line(surface, point{oxygenLeft, o.joint}, point{oxygenRight, o.joint})
	o.ruler(o.waterDepth, o.top, o.joint, true)
	o.ruler(o.bedDepth, o.joint, o.foot, false)
	o.name(o.top, "water, "+o.onRuler(o.waterDepth), "from its surface down")
	if o.bedDepth > 0 {
		o.name(o.joint, "bed, top "+o.onRuler(o.bedDepth), o.enlargedWords())
	}
}

// enlargedWords says how the two scales differ.
func (o *oxygenPicture) enlargedWords() string {
	if o.enlarged == 0 {
		return "from its surface down"
	}
	times := words.Number(o.enlarged, 1)
	return "depths drawn " + strings.TrimSuffix(times, ".0") + " times as large as in the water"
}

// name writes what a panel is beside its top.
func (o *oxygenPicture) name(top float64, what, how string) {
	lines := append([]said{{what, usual.strong()}}, o.wrapped(how, oxygenNames, small)...)
	o.stack(margin, top+heightOf(lines)/2, oxygenNames, lines...)
}

// ruler draws depths from a surface down. The upper one leaves out what stands where the
// lower one begins.
func (o *oxygenPicture) ruler(depth, top, foot float64, upper bool) {
	if depth == 0 {
		return
	}
	scale := (foot - top) / depth
	major, minor := ticksOf(o.units, 6/scale, 0.9/scale)
	mark := stroke{ink: inkSoft, width: 0.2}
	const edge = oxygenLeft - 0.4
	var marks [][]point
	for n := 0; float64(n)*minor.mm <= depth*(1+1e-9); n++ {
		mm := float64(n) * minor.mm
		y, long := top+mm*scale, 0.7
		if n%major.count(minor) == 0 {
			long = 1.4
			if !upper || y < foot-leading*smallSize {
				text := major.words(mm)
				if n == 0 {
					text += " " + o.units.String()
				}
				o.text(oxygenRulerX, y+capitals/2*smallSize, text, small.to(upToHere))
			}
		}
		marks = append(marks, []point{{edge - long, y}, {edge, y}})
	}
	o.lines(mark, marks...)
}

// verticals draws the limit and the saturation, which are the water's, down to the bed.
func (o *oxygenPicture) verticals() {
	limit, beyond := o.gauge.at(o.x.Limit)
	if beyond == 0 {
		o.limitLine(limit, o.top-0.8, o.joint)
	}
	text := "the least of a day should be " + words.Number(o.x.Limit, 1) + " mg/L"
	how := small.inInk(inkLimit)
	x := min(max(limit-o.length(text, how)/2, oxygenLeft), oxygenWidth-margin-o.length(text, how))
	o.text(x, o.top-0.8-descent*smallSize-0.2, text, how)
	if saturation, beyond := o.gauge.at(o.x.Saturation); beyond == 0 {
		o.line(stroke{ink: inkSoft, width: 0.3}, point{saturation, o.top}, point{saturation, o.joint})
	}
}

// limitLine draws the limit over a part of the picture's height.
func (o *oxygenPicture) limitLine(x, from, to float64) {
	o.line(stroke{ink: inkLimit, width: 0.4, dash: 1.6, gap: 1}, point{x, from}, point{x, to})
}

// curveWidth is of the profile's line, mm.
const curveWidth = 0.6

// curve draws the profile: a band over the 90 % ranges and a line, without dots, since no
// place of it was measured. What is not known breaks it.
func (o *oxygenPicture) curve() {
	var ranges, medians [][]point
	for _, part := range append(known(o.water), known(o.bed)...) {
		var line, low, high []point
		for _, p := range part {
			y := o.place(p)
			l, _ := o.gauge.at(p.Oxygen.Low)
			v, _ := o.gauge.at(p.Oxygen.Value)
			h, _ := o.gauge.at(p.Oxygen.High)
			low, line, high = append(low, point{l, y}), append(line, point{v, y}), append(high, point{h, y})
		}
		for i := range low {
			high = append(high, low[len(low)-1-i])
		}
		ranges, medians = append(ranges, high), append(medians, line)
	}
	for _, outline := range ranges {
		o.area(inkOxic.faint(bandTone), outline...)
	}
	o.film()
	o.lines(stroke{ink: inkOxic, width: curveWidth}, medians...)
	for _, line := range medians {
		if len(line) == 1 { // a line without length
			o.dots(inkOxic, curveWidth/2, line[0])
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

// film joins the water's last oxygen with the bed's first: what the film of still water
// between them, thinner than a line, holds back.
func (o *oxygenPicture) film() {
	above, below := o.x.Bottom(), o.bedSurface()
	if above == nil || below == nil {
		return
	}
	from, _ := o.gauge.at(above.Value)
	to, _ := o.gauge.at(below.Value)
	o.line(stroke{ink: inkOxic, width: 0.45, dash: 0.6, gap: 0.6}, point{from, o.joint}, point{to, o.joint})
}

// bedSurface is the oxygen on the bed, under the film; nil: not known.
func (o *oxygenPicture) bedSurface() *reports.Estimate {
	if len(o.bed) == 0 || o.bed[0].DepthMM > 0 {
		return nil
	}
	return o.bed[0].Oxygen
}

// Where the ranges of depths stand, near the right edge.
const (
	oxygenBracketX      = oxygenRight - 3.0 // in the bed
	oxygenWaterBracketX = oxygenRight - 6.5
)

// penetration draws where oxygen ends in the bed, and in the water where it ends there.
func (o *oxygenPicture) penetration() {
	if e := o.x.Penetration; e != nil && len(o.bed) > 0 {
		o.group("oxygen ends in the bed at "+o.depth(*e), func() { o.ends(oxygenBracketX, *e, o.inBed, o.bedDepth) })
	}
	if e := o.oxicWater(); e != nil {
		o.group("water that holds oxygen: "+o.depth(*e), func() { o.ends(oxygenWaterBracketX, *e, o.inWater, o.waterDepth) })
	}
}

// oxicWater is how deep oxygen reaches in the water, nil where that is all of it or not
// known.
func (o *oxygenPicture) oxicWater() *reports.Estimate {
	if e := o.x.OxicWater; e != nil && len(o.water) > 0 && e.Low < o.waterDepth {
		return e
	}
	return nil
}

// ends draws a depth's range as a bracket and leads to it from where the curve ends.
func (o *oxygenPicture) ends(x float64, e reports.Estimate, place func(mm float64) float64, depth float64) {
	const reach = 1.0
	s := stroke{ink: inkOxic, width: 0.55}
	low, high, value := place(e.Low), place(e.High), place(e.Value)
	o.line(stroke{ink: inkOxic, width: 0.25, dash: 0.9, gap: 0.7}, point{oxygenLeft, value}, point{x, value})
	across := func(y float64) []point { return []point{{x - reach, y}, {x + reach, y}} }
	bracket := [][]point{across(low), {{x, low}, {x, high}}}
	if e.High > depth || e.AtLeast { // on beyond what is drawn
		bracket = append(bracket, []point{{x - reach, high - 1.3*reach}, {x, high}, {x + reach, high - 1.3*reach}})
	} else {
		bracket = append(bracket, across(high))
	}
	o.lines(s, bracket...)
	if e.Value <= depth {
		o.dots(inkOxic, 0.85, point{x, value})
	}
}
