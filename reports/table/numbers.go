package table

import (
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// trend writes how the bed changes and what is modelled or tested of its water.
func (p *page) trend(t reports.Tank) {
	g := numbersGrid()
	add := func(name string, e *reports.Estimate, m words.Measure) {
		if e != nil {
			g.rows = append(g.rows, p.number(name, e, m))
		}
	}
	add("accumulation of mulm", t.Accumulation, words.Rate(p.Units))
	add(words.FrontShift(t.FrontShift), t.FrontShift, words.Rate(p.Units))
	add(words.FloorShift(t.FloorShift), t.FloorShift, words.Rate(p.Units))
	add("black zone, depth of its top", t.BlackTop, words.Length(p.Units))
	if black(t.BlackZone) {
		add("black zone, thickness", t.BlackZone, words.Length(p.Units))
	}
	add("oxygen penetration", t.Penetration, words.Length(p.Units))
	add("oxygen at the bottom", t.BottomOxygen, words.Oxygen())
	add("un-ionised ammonia", t.Ammonia, words.Ammonia())
	p.trendSection(words.Frames(t.FrontShift, t.FloorShift, p.Units), t.LimitReached, t.AsOf, g)
}

// trendSection writes how the front moves, when the mulm reaches its limit, and the numbers.
func (p *page) trendSection(frames string, f *reports.Forecast, asOf layers.Date, g grid) {
	if len(g.rows) == 0 && f == nil {
		return
	}
	p.heading("The trend")
	if frames != "" {
		p.text(2, frames)
	}
	if f != nil {
		p.text(2, words.Forecast(*f, asOf, p.Units))
	}
	if len(g.rows) > 0 {
		p.line()
		p.grid(g)
	}
}

func numbersGrid(rows ...[]string) grid {
	return grid{columns: []column{left(""), right("value").near(), left(""), right("90 % range")}, rows: rows}
}

// number is one row of a table of numbers: what it is, value, unit, range.
func (p *page) number(name string, e *reports.Estimate, m words.Measure) []string {
	if e == nil {
		return []string{name, p.missing, "", ""}
	}
	if basis := words.Basis(*e); basis != "" {
		name += ", " + basis
	}
	return []string{name, p.plain(m.Value(*e)), m.Unit, p.plain(m.Bounds(*e))}
}
