package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// The overview's layout, mm (assumptions: two tanks side by side on a page, read at a glance).
const (
	cardGap        = 6.0
	cardCores      = 29.0 // width of a card's cores
	cardCoreWidth  = 9.0  // widest core
	cardCoreGap    = 1.5
	cardDepth      = 35.0 // the deepest bed's height, at most
	mostCards      = 60   // more are too many for a picture; the list has them all
	mostCardCores  = 4
	cardHow        = 3 // lines, at most
	cardLineLength = (pen.PaperWidth-2*pen.Margin-cardGap)/2 - cardCores
)

// Overview draws every tank as small cores, all to one scale, with its advice in words, in
// the order given: the most urgent first.
func Overview(o reports.Overview, u layers.Units) *pen.Figure {
	f := pen.NewFigure(words.OverviewTitle(o), pen.PaperWidth)
	v := overview{Figure: f, Units: u, scale: overviewScale(o)}
	y := pen.Margin + pen.Ascent*pen.TitleSize
	f.Text(pen.Margin, y, f.Title, pen.Title)
	key := "The newest core of each station, all " + scaleWords(v.scale) + "; the line across a core is its colour oxic depth."
	y = f.Paragraph(pen.Margin, y+1.5*pen.UsualSize, pen.PaperWidth-2*pen.Margin, key, pen.Soft)
	shown := o.Tanks[:min(len(o.Tanks), mostCards)]
	for row := range slices.Chunk(shown, 2) {
		foot := y
		for i, tank := range row {
			x := pen.Margin + float64(i)*((pen.PaperWidth-2*pen.Margin+cardGap)/2)
			f.Group(words.TankName(tank.ID, tank.Name), func() { foot = max(foot, v.card(tank, x, y)) })
		}
		y = foot + cardGap
	}
	if more := len(o.Tanks) - len(shown); more > 0 {
		y = f.Paragraph(pen.Margin, y+pen.Ascent*pen.UsualSize, pen.PaperWidth-2*pen.Margin, fmt.Sprintf("and %d more tanks, less urgent: the list has them all", more), pen.Soft)
	}
	f.Height = y + pen.Margin - cardGap
	f.Desc = v.description(o)
	return f
}

type overview struct {
	*pen.Figure
	layers.Units
	scale float64 // mm on paper per mm of bed
}

// overviewScale fits the deepest core into a card, at a scale with one decimal.
func overviewScale(o reports.Overview) float64 {
	deepest := 0.0
	for _, tank := range o.Tanks {
		for _, core := range tank.Cores {
			deepest = max(deepest, core.DepthMM())
		}
	}
	return 10 / math.Ceil(10*max(1, deepest/cardDepth))
}

// card draws one tank and returns where it ends.
func (v *overview) card(tank reports.OverviewLine, x, y float64) float64 {
	foot := v.cores(tank, x, y)
	x += cardCores
	y += pen.Ascent * pen.UsualSize
	heading := pen.Usual.Strong()
	heading.Size = 1.2 * pen.UsualSize
	v.Text(x, y, v.Fit(cmp.Or(tank.Name, tank.ID), cardLineLength, heading), heading)
	y += 1.55 * pen.UsualSize
	if tank.Action == "" {
		v.Text(x, y, "No core has been read.", pen.Usual)
		return y
	}
	urgent := len(tank.WaterFirst) > 0
	verdict := pen.Usual.Strong()
	if urgent {
		verdict = verdict.InInk(pen.InkLimit)
	}
	v.Text(x, y, words.Headline(tank.Action, tank.WaterFirst), verdict)
	y += pen.Leading * pen.UsualSize
	how := ""
	switch {
	case urgent:
		how = strings.Join(tank.WaterFirst, " ")
	case tank.Action != reports.Leave: // no hand in the bed without its conditions
		how = tank.How
	}
	small := func(text string) {
		y = v.Say(x, y, v.First(cardHow, text, cardLineLength, pen.Small)...) + 0.3*pen.UsualSize
	}
	if how != "" {
		small(how)
	}
	if told := words.Runaway(tank.Watch); told != "" {
		y = v.Paragraph(x, y, cardLineLength, told, pen.Small.Strong().InInk(pen.InkLimit)) + 0.3*pen.UsualSize
	}
	if !urgent {
		small(words.Clarity(tank.Clarity, tank.LimitedBy) + ": " + words.Draws(tank.Confidence))
	}
	for _, line := range v.lines(tank) {
		ink := pen.InkWord
		if strings.HasSuffix(line, ", due") {
			ink = pen.InkLimit
		}
		v.Text(x, y, v.Fit(line, cardLineLength, pen.Usual), pen.Usual.InInk(ink))
		y += pen.Leading * pen.UsualSize
	}
	return max(foot, y-pen.Ascent*pen.UsualSize)
}

// lines are a tank's numbers in words.
func (v *overview) lines(tank reports.OverviewLine) []string {
	var list []string
	add := func(name string, e *reports.Estimate, m words.Measure) {
		if e != nil {
			list = append(list, name+" "+m.Estimate(*e))
		}
	}
	add("mulm", tank.Mulm, words.Length(v.Units))
	add("oxic depth", tank.OxicDepth, words.Length(v.Units))
	if tank.Accumulation != nil {
		m := words.Rate(v.Units)
		list = append(list, "mulm grows "+m.Value(*tank.Accumulation)+" "+m.Unit)
	}
	if more := len(tank.Cores) - mostCardCores; more > 0 {
		list = append(list, "+"+words.Count(more, "more station"))
	}
	if tank.DaysSince != nil {
		read := "read " + words.DaysAgo(*tank.DaysSince)
		if !tank.Reliable {
			read += ", not reliable"
		}
		list = append(list, read)
	}
	next := "next reading " + tank.NextReading.String()
	if tank.Due {
		next += ", due"
	}
	return append(list, next)
}

// cores draws a tank's newest cores side by side and returns where the deepest ends.
func (v *overview) cores(tank reports.OverviewLine, x, y float64) float64 {
	pitch, top, foot := corePitch(tank), y+pen.SmallSize+1, y
	for i, core := range tank.Cores[:min(len(tank.Cores), mostCardCores)] {
		v.core(core, x+float64(i)*pitch, top, pitch-cardCoreGap)
		foot = max(foot, top+core.DepthMM()*v.scale)
	}
	return foot
}

// corePitch is from one of a tank's cores to the next, mm.
func corePitch(tank reports.OverviewLine) float64 {
	return min(cardCoreWidth+cardCoreGap, (cardCores-4)/float64(max(1, min(len(tank.Cores), mostCardCores))))
}

// coresWidth is the width of a tank's cores, mm.
func coresWidth(tank reports.OverviewLine) float64 {
	return corePitch(tank) * float64(min(len(tank.Cores), mostCardCores))
}

// core draws one small core below its station's name.
func (v *overview) core(core reports.Core, x, y, width float64) {
	v.Text(x, y-0.8, v.Fit(core.Station, width+0.5, pen.Small), pen.Small)
	for _, l := range core.Layers {
		v.FillLayer(x, y+l.TopMM*v.scale, width, l.Thickness.Value*v.scale, l.Hex, l.Band)
	}
	if len(core.Layers) > 0 {
		v.Frame(x, y, width, core.DepthMM()*v.scale, pen.Stroke{Ink: pen.InkSoft, Width: 0.2})
	}
	if e := core.OxicDepth; e != nil && !e.AtLeast {
		v.OverLayers(pen.Stroke{Ink: pen.InkOxic, Width: 0.45}, v.scale, y+e.Value*v.scale, x, x+width, x, x+width+0.8)
	}
}

func (v *overview) description(o reports.Overview) string {
	if len(o.Tanks) == 0 {
		return "No tanks."
	}
	var parts []string
	for _, tank := range o.Tanks {
		advice := "no core has been read"
		if tank.Action != "" {
			advice = strings.ToLower(words.Headline(tank.Action, tank.WaterFirst))
			switch {
			case len(tank.WaterFirst) > 0:
				advice += " (" + strings.TrimSuffix(strings.Join(tank.WaterFirst, " "), ".") + ")"
			default:
				advice += ", " + words.Draws(tank.Confidence)
				if tank.Action != reports.Leave {
					advice += " (" + strings.TrimSuffix(tank.How, ".") + ")"
				}
			}
		}
		if told := words.Runaway(tank.Watch); told != "" {
			advice += ". " + strings.TrimSuffix(told, ".")
		}
		parts = append(parts, words.TankName(tank.ID, tank.Name)+": "+advice)
	}
	return strings.Join(parts, "; ") + "."
}
