package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// The overview's measures, mm (assumptions: two tanks beside each other on a page, read at
// a glance).
const (
	cardGap        = 6.0
	cardColumns    = 29.0 // the part of a card that its columns take
	cardColumn     = 9.0  // the widest column
	cardColumnGap  = 1.5
	cardDepth      = 35.0 // of the deepest bed, at most
	mostCards      = 60   // assumption: more make no picture; the list has them all
	mostCardCores  = 4
	cardHow        = 3 // lines
	cardLineLength = (pageWidth-2*margin-cardGap)/2 - cardColumns
)

// Overview draws every tank as small columns, all to one scale, with its advice in words,
// in the order given: the most pressing first.
func Overview(o reports.Overview, u layers.Units) *Figure {
	f := newFigure(words.OverviewTitle(o), pageWidth)
	v := overview{Figure: f, Units: u, scale: overviewScale(o)}
	y := margin + ascent*titleSize
	f.text(margin, y, f.Title, title)
	y = f.paragraph(margin, y+1.5*usualSize, pageWidth-2*margin, v.key(), soft)
	shown := o.Tanks[:min(len(o.Tanks), mostCards)]
	for row := range slices.Chunk(shown, 2) {
		foot := y
		for i, tank := range row {
			x := margin + float64(i)*((pageWidth-2*margin+cardGap)/2)
			f.group(words.TankName(tank.ID, tank.Name), func() { foot = max(foot, v.card(tank, x, y)) })
		}
		y = foot + cardGap
	}
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

// overviewScale draws the deepest of the cores in the depth that a card has, to a scale
// that is said with one decimal.
func overviewScale(o reports.Overview) float64 {
	deepest := 0.0
	for _, tank := range o.Tanks {
		for _, core := range tank.Cores {
			deepest = max(deepest, core.DepthMM())
		}
	}
	return 10 / math.Ceil(10*max(1, deepest/cardDepth))
}

func (v *overview) key() string {
	return "Each column is the newest core of a station, all " + scaleWords(v.scale) + "; the line across it is the colour oxic depth."
}

// card draws one tank and returns where it ends.
func (v *overview) card(tank reports.OverviewLine, x, y float64) float64 {
	foot := v.columns(tank, x, y)
	x += cardColumns
	y += ascent * usualSize
	heading := usual.strong()
	heading.size = 1.2 * usualSize
	v.text(x, y, v.fit(cmp.Or(tank.Name, tank.ID), cardLineLength, heading), heading)
	y += 1.55 * usualSize
	if tank.Action == "" {
		v.text(x, y, "No core has been read.", usual)
		return y
	}
	urgent := len(tank.WaterFirst) > 0
	verdict := usual.strong()
	if urgent {
		verdict = verdict.inInk(inkLimit)
	}
	v.text(x, y, words.Headline(tank.Action, tank.WaterFirst), verdict)
	y += leading * usualSize
	how := ""
	switch {
	case urgent:
		how = strings.Join(tank.WaterFirst, " ")
	case tank.Action != reports.Leave: // no hand in the bed without its condition
		how = tank.How
	}
	if how != "" {
		for _, line := range v.first(cardHow, how, cardLineLength, small) {
			v.text(x, y, line.text, line.how)
			y += line.height()
		}
		y += 0.3 * usualSize
	}
	if !urgent {
		for _, line := range v.first(cardHow, words.Clarity(tank.Clarity, tank.LimitedBy)+": "+words.Draws(tank.Confidence), cardLineLength, small) {
			v.text(x, y, line.text, line.how)
			y += line.height()
		}
		y += 0.3 * usualSize
	}
	for _, line := range v.lines(tank) {
		ink := inkWord
		if strings.HasSuffix(line, ", due") {
			ink = inkLimit
		}
		v.text(x, y, v.fit(line, cardLineLength, usual), usual.inInk(ink))
		y += leading * usualSize
	}
	return max(foot, y-ascent*usualSize)
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

// columns draws a tank's newest cores beside each other, and returns where the deepest
// ends.
func (v *overview) columns(tank reports.OverviewLine, x, y float64) float64 {
	pitch, top, foot := columnPitch(tank), y+smallSize+1, y
	for i, core := range tank.Cores[:min(len(tank.Cores), mostCardCores)] {
		v.column(core, x+float64(i)*pitch, top, pitch-cardColumnGap)
		foot = max(foot, top+core.DepthMM()*v.scale)
	}
	return foot
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
		v.overLayers(stroke{ink: inkOxic, width: 0.45}, v.scale, y+e.Value*v.scale, x, x+width, x, x+width+0.8)
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
		parts = append(parts, words.TankName(tank.ID, tank.Name)+": "+advice)
	}
	return strings.Join(parts, "; ") + "."
}
