package table

import (
	"strings"

	"github.com/olekukonko/tablewriter/tw"

	"panecore/reports"
)

// deciding is the table of the three numbers that the advice turns on; one that
// could not be estimated keeps its row.
func (p *page) deciding(t reports.Tank) grid {
	g := numbersGrid()
	g.rows = append(g.rows,
		p.number("colour oxic depth", t.OxicDepth, length(p.Units)),
		p.number("mulm", t.Mulm, length(p.Units)),
		p.number("accumulation", t.Accumulation, rate(p.Units)))
	return g
}

// trend writes how the bed changes and what is modelled or tested of its water.
func (p *page) trend(t reports.Tank) error {
	g := numbersGrid()
	add := func(name string, e *reports.Estimate, m measure) {
		if e != nil {
			g.rows = append(g.rows, p.number(name, e, m))
		}
	}
	add("accumulation of mulm", t.Accumulation, rate(p.Units))
	if t.FrontShift != nil {
		add("front shift, "+frontWords(*t.FrontShift), t.FrontShift, rate(p.Units))
	}
	add("black zone, depth of its top", t.BlackTop, length(p.Units))
	if black(t.BlackZone) {
		add("black zone, thickness", t.BlackZone, length(p.Units))
	}
	add("oxygen penetration", t.Penetration, length(p.Units))
	add("oxygen at the bottom", t.BottomOxygen, oxygen())
	add("un-ionised ammonia", t.Ammonia, ammonia())
	return p.trendSection(t.LimitReached, g)
}

// trendSection writes when the mulm reaches its limit, and the numbers.
func (p *page) trendSection(f *reports.Forecast, g grid) error {
	if len(g.rows) == 0 && f == nil {
		return nil
	}
	p.heading("The trend")
	if f != nil {
		p.text(2, forecastWords(*f, onRuler(p.Units, f.LimitMM)+" "+p.Units.String()))
	}
	if len(g.rows) == 0 {
		return nil
	}
	p.line()
	return p.grid(g)
}

func numbersGrid() grid {
	return grid{
		head:  []string{"", "value", "", "90 % range"},
		align: []tw.Align{tw.AlignLeft, tw.AlignRight, tw.AlignLeft, tw.AlignRight},
		gaps:  []string{"  ", " ", "  ", ""},
		text:  0,
	}
}

// number is one row of a table of numbers: what it is, value, unit, range.
func (p *page) number(name string, e *reports.Estimate, m measure) []string {
	if e == nil {
		return []string{name, p.missing, "", ""}
	}
	if basis := basisWords(*e); basis != "" {
		name += ", " + basis
	}
	return []string{name, p.value(*e, m), m.unit, p.bounds(*e, m)}
}

// estimate writes a number within a sentence: "at least 16 mm (14 to 18)".
func (p *page) estimate(e reports.Estimate, m measure) string {
	return p.value(e, m) + " " + m.unit + " (" + p.bounds(e, m) + ")"
}

func (p *page) value(e reports.Estimate, m measure) string {
	value := p.signed(e.Value*m.scale, m.digits(e))
	if e.AtLeast {
		return "at least " + value
	}
	return value
}

// bounds writes the 90 % range, with the decimals of the value.
func (p *page) bounds(e reports.Estimate, m measure) string {
	decimals := m.digits(e)
	return p.signed(e.Low*m.scale, decimals) + " to " + p.signed(e.High*m.scale, decimals)
}

func (p *page) signed(x float64, decimals int) string {
	return strings.Replace(number(x, decimals), "-", p.minus, 1)
}
