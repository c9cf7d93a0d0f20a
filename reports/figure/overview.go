package figure

import (
	"cmp"
	"fmt"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// The overview's measures, mm (assumptions: two tanks beside each other on a page, read at
// a glance).
const (
	pageWidth      = 170.0 // the widest that fits A4 and Letter with their margins
	cardGap        = 6.0
	cardColumns    = 29.0 // the part of a card that its columns take
	cardColumn     = 9.0  // the widest column
	cardColumnGap  = 1.5
	cardHeight     = 40.0
	cardDepth      = 35.0 // of the deepest bed
	mostCards      = 60   // assumption: more make no picture; the list has them all
	mostCardCores  = 4
	cardLineLength = (pageWidth-2*margin-cardGap)/2 - cardColumns
)

// Overview draws every tank as small columns, all to one scale, with its advice in words,
// in the order given: the most pressing first.
func Overview(o reports.Overview, u layers.Units) *Figure {
	f := newFigure(fmt.Sprintf("%d tanks on %s, the most pressing first", len(o.Tanks), o.Today), pageWidth)
	v := overview{Figure: f, Units: u, scale: overviewScale(o)}
	y := margin + ascent*titleSize
	f.text(margin, y, f.Title, title)
	y = f.paragraph(margin, y+1.5*usualSize, pageWidth-2*margin, v.key(), soft)
	shown := o.Tanks[:min(len(o.Tanks), mostCards)]
	for i, tank := range shown {
		x := margin + float64(i%2)*((pageWidth-2*margin+cardGap)/2)
		f.group(words.TankName(tank.ID, tank.Name), func() { v.card(tank, x, y+float64(i/2)*(cardHeight+cardGap)) })
	}
	y += float64((len(shown)+1)/2) * (cardHeight + cardGap)
	if more := len(o.Tanks) - len(shown); more > 0 {
		y = f.paragraph(margin, y+ascent*usualSize, pageWidth-2*margin, fmt.Sprintf("and %d tanks more, which press less: the list has them all", more), soft)
	}
	f.Height = y + margin - cardGap
	f.Desc = v.told(o)
	return f
}

// overview is the picture of all tanks as it is drawn.
type overview struct {
	*Figure
	layers.Units
	scale float64 // mm on paper for a mm of bed
}

// overviewScale draws the deepest of the cores in the depth that a card has.
func overviewScale(o reports.Overview) float64 {
	deepest := 1.0
	for _, tank := range o.Tanks {
		for _, core := range tank.Cores {
			deepest = max(deepest, core.DepthMM())
		}
	}
	return min(1, cardDepth/deepest)
}

func (v *overview) key() string {
	return fmt.Sprintf("Each column is the newest core of a station, all to one scale, here %s mm a %s; the line across it is the colour oxic depth.",
		words.Number(v.scale/v.Of(1), 2), map[layers.Units]string{layers.MM: "mm", layers.Inches: "inch"}[v.Units])
}

// card draws one tank.
func (v *overview) card(tank reports.OverviewLine, x, y float64) {
	v.columns(tank, x, y)
	x += cardColumns
	y += ascent * usualSize
	heading := usual.strong()
	heading.size = 1.2 * usualSize
	v.text(x, y, v.fit(cmp.Or(tank.Name, tank.ID), cardLineLength, heading), heading)
	y += 1.55 * usualSize
	if tank.Action == "" {
		v.paragraph(x, y, cardLineLength, "No core has been read.", usual)
		return
	}
	v.text(x, y, words.Action(tank.Action), usual.strong())
	y += leading * usualSize
	v.text(x, y, words.Confidence(tank.Confidence)+": "+words.Draws(tank.Confidence), soft)
	y += 1.1 * leading * usualSize
	for _, line := range v.lines(tank) {
		ink := inkWord
		if strings.HasSuffix(line, ", due") {
			ink = inkLimit
		}
		v.text(x, y, v.fit(line, cardLineLength, usual), usual.inInk(ink))
		y += leading * usualSize
	}
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
	if tank.DaysSince != nil {
		list = append(list, "read "+words.DaysAgo(*tank.DaysSince))
	}
	next := "next reading " + tank.NextReading.String()
	if tank.Due {
		next += ", due"
	}
	return append(list, next)
}

// columns draws a tank's newest cores beside each other.
func (v *overview) columns(tank reports.OverviewLine, x, y float64) {
	pitch := columnPitch(tank)
	for i, core := range tank.Cores[:min(len(tank.Cores), mostCardCores)] {
		v.column(core, x+float64(i)*pitch, y+smallSize+1, pitch-cardColumnGap)
	}
}

// columnPitch is from one of a tank's columns to the next, mm.
func columnPitch(tank reports.OverviewLine) float64 {
	return min(cardColumn+cardColumnGap, (cardColumns-4)/float64(max(1, min(len(tank.Cores), mostCardCores))))
}

// columnsWidth is the room of a tank's columns, mm.
func columnsWidth(tank reports.OverviewLine) float64 {
	return columnPitch(tank) * float64(min(len(tank.Cores), mostCardCores))
}

// column draws one small core below its station's name.
func (v *overview) column(core reports.Core, x, y, width float64) {
	v.text(x, y-0.8, v.fit(core.Station, width+0.5, small), small)
	for _, l := range core.Layers {
		v.bed(x, y+l.TopMM*v.scale, width, l.Thickness.Value*v.scale, l.Hex, l.Band)
	}
	if len(core.Layers) > 0 {
		v.frame(x, y, width, core.DepthMM()*v.scale, stroke{ink: inkSoft, width: 0.2})
	}
	if e := core.OxicDepth; e != nil && !e.AtLeast {
		v.overLayers(stroke{ink: inkOxic, width: 0.45}, y+e.Value*v.scale, x, x+width, x, x+width+0.8)
	}
}

// told is the picture in words.
func (v *overview) told(o reports.Overview) string {
	if len(o.Tanks) == 0 {
		return "No tanks."
	}
	var parts []string
	for _, tank := range o.Tanks {
		advice := "no core has been read"
		if tank.Action != "" {
			advice = strings.ToLower(words.Action(tank.Action)) + ", " + words.Draws(tank.Confidence)
		}
		parts = append(parts, words.TankName(tank.ID, tank.Name)+": "+advice)
	}
	return strings.Join(parts, "; ") + "."
}
