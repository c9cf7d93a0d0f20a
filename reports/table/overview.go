package table

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"panecore/reports"
	"panecore/reports/words"
)

// WriteOverview draws one line a tank, in the order given. Its errors are those of w.
func WriteOverview(w io.Writer, o reports.Overview, options Options) error {
	p := newPage(options)
	if len(o.Tanks) == 0 {
		p.line("no tanks to show")
		return p.write(w)
	}
	p.text(0, words.OverviewTitle(o))
	p.line()
	unit := p.Units.String()
	g := grid{columns: []column{left("tank"), left("advice").near(), right("draws"), right("mulm"), right("oxic"), right("growth"), right("front"), right("read"), left("next")}}
	for _, l := range o.Tanks {
		g.rows = append(g.rows, []string{
			markedName(l), p.adviceWord(l), p.draws(l), p.short(l.Mulm, words.Length(p.Units)) + p.doubt(l), p.short(l.OxicDepth, words.Length(p.Units)) + p.doubt(l),
			p.short(l.Accumulation, words.Rate(p.Units)), p.short(l.FrontShift, words.Rate(p.Units)), p.ago(l), p.due(l),
		})
	}
	p.gridOrLabels(g)
	p.line()
	if slices.ContainsFunc(o.Tanks, func(l reports.OverviewLine) bool { return len(l.WaterFirst) > 0 }) {
		p.text(gridIndent, "water!: see to the water first; the tank's report says why and what to do now.")
	}
	if slices.ContainsFunc(o.Tanks, func(l reports.OverviewLine) bool { return l.Watch.Runaway() }) {
		p.text(gridIndent, "runaway!: black is likely swelling up through the bed; the tank's report says since when.")
	}
	p.text(gridIndent, fmt.Sprintf("draws: how many of 100 say so; mulm and colour oxic depth in %s, '+' where there is more than was seen, '?' where the photo is not reliable; "+
		"growth of the mulm and shift of the front against the bed surface in %s a month, below zero the front rises; read: days ago; next: the next reading, '!' where it is due.", unit, unit))
	return p.write(w)
}

// gridOrLabels draws a table, or, where it has no room, each row as a line of words with
// every number behind its name; a column without one stands behind the column before.
func (p *page) gridOrLabels(g grid) {
	if p.width-gridIndent-g.fixedWidth() >= minText {
		p.grid(g)
		return
	}
	for _, row := range g.rows {
		p.text(gridIndent, row[g.text])
		var parts []string
		for column, cell := range row {
			switch {
			case column == g.text || cell == "":
			case g.columns[column].head == "" && len(parts) > 0:
				parts[len(parts)-1] += " " + cell
			default:
				parts = append(parts, g.columns[column].head+" "+cell)
			}
		}
		p.text(2*gridIndent, strings.Join(parts, ", "))
	}
}

// markedName is a tank's name, marked if a runaway is under way in it.
func markedName(l reports.OverviewLine) string {
	name := words.TankName(l.ID, l.Name)
	if l.Watch.Runaway() {
		name += " runaway!"
	}
	return name
}

func (p *page) adviceWord(l reports.OverviewLine) string {
	switch {
	case len(l.WaterFirst) > 0:
		return "water!"
	case l.Action == "":
		return p.missing
	}
	return string(l.Action)
}

func (p *page) draws(l reports.OverviewLine) string {
	if l.Action == "" || len(l.WaterFirst) > 0 {
		return p.missing
	}
	return fmt.Sprint(words.Hundred(l.Confidence))
}

// doubt marks numbers that stand on a reading that is not reliable.
func (p *page) doubt(l reports.OverviewLine) string {
	if l.Reliable {
		return ""
	}
	return "?"
}

// short is a number without its range.
func (p *page) short(e *reports.Estimate, m words.Measure) string {
	if e == nil {
		return p.missing
	}
	return p.plain(m.Short(*e))
}

func (p *page) ago(l reports.OverviewLine) string {
	if l.DaysSince == nil {
		return p.missing
	}
	return fmt.Sprint(*l.DaysSince)
}

func (p *page) due(l reports.OverviewLine) string {
	date := l.NextReading.String()
	if l.NextReading == 0 {
		date = "now"
	}
	if l.Due {
		date += "!"
	}
	return date
}
