package table

import (
	"io"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// The timeline's size in the terminal (assumption: what reads well on one screen).
const (
	timelineRows  = 18 // of the deepest core
	timelineRuler = 8  // columns of depths and of the words before the numbers
)

// WriteTimeline draws a tank's cores side by side, station by station, with the events
// between them and the trends. Its errors are those of w.
func WriteTimeline(w io.Writer, t reports.Timeline, o Options) error {
	p := newPage(o)
	p.text(0, words.Judged(words.TankName(t.ID, t.Name), t.AsOf))
	if len(t.Stations) > 0 {
		p.line()
		if text := words.Watch(t.Watch); text != "" {
			p.text(2, text)
			p.line()
		}
		p.text(2, "Each column is one core, its bed surface on top; "+p.letters(t)+".")
	}
	deepest := 0.0
	for _, station := range t.Stations {
		for _, core := range station.Cores {
			deepest = max(deepest, core.DepthMM())
		}
	}
	scale := p.scaleFor(deepest, timelineRows) // the same at every station
	for _, station := range t.Stations {
		p.heading(station.Station)
		p.station(station, t.Events, scale)
	}
	p.timelineTrends(t)
	p.section("Notices", t.Notices)
	return p.write(w)
}

// letters explains the fillings that the timeline shows.
func (p *page) letters(t reports.Timeline) string {
	shown := map[string]string{}
	var order []string
	for _, station := range t.Stations {
		for _, core := range station.Cores {
			for _, l := range core.Layers {
				if key := l.Band.Letters().Pair; shown[key] == "" {
					shown[key] = l.Band.String()
					order = append(order, key)
				}
			}
		}
	}
	for i, key := range order {
		order[i] = key + " " + shown[key]
	}
	return strings.Join(order, ", ")
}

// station draws as many cores beside each other as the width holds, then goes on below.
func (p *page) station(s reports.StationLine, events []layers.Event, scale float64) {
	cell := 4 // columns a core: three of filling, or a number of whole mm
	if p.Units == layers.Inches {
		cell = 5
	}
	perBlock := (p.width - timelineRuler) / cell
	var before layers.Date
	for first := 0; first < len(s.Cores); first += perBlock {
		cores := s.Cores[first:min(first+perBlock, len(s.Cores))]
		last := cores[len(cores)-1].Date
		if first+perBlock >= len(s.Cores) {
			last = 1<<31 - 1
		}
		var between []layers.Event
		for _, e := range events {
			if before <= e.Date && e.Date < last {
				between = append(between, e)
			}
		}
		if first > 0 {
			p.line()
		}
		p.block(cores, between, scale, cell)
		before = last
	}
}

// block draws a row of cores with their dates and numbers, and lists the events.
func (p *page) block(cores []reports.Core, events []layers.Event, scale float64, cell int) {
	p.dates(cores, cell)
	deepest := 0.0
	for _, core := range cores {
		deepest = max(deepest, core.DepthMM())
	}
	for row := 0; float64(row)*scale < deepest; row++ {
		label := ""
		if row%5 == 0 {
			label = words.OnRuler(p.Units, float64(row)*scale)
		}
		parts := []string{padLeft(label, timelineRuler-2), " ", p.side}
		for _, core := range cores {
			parts = append(parts, p.slice(core, (float64(row)+0.5)*scale, cell))
		}
		p.line(parts...)
	}
	p.numberRow("mulm", cores, cell, func(i int) string { return p.cellNumber(cores[i].Mulm) })
	p.numberRow("oxic", cores, cell, func(i int) string { return p.cellNumber(cores[i].OxicDepth) })
	if len(events) == 0 {
		return
	}
	p.numberRow("event", cores, cell, func(i int) string { return marksBefore(cores, i, events) })
	for i, e := range events {
		p.item(2, eventMark(i)+" ", words.EventDated(e, p.Units))
	}
}

// dates writes the year where it changes, the month and the day above each core.
func (p *page) dates(cores []reports.Core, cell int) {
	years, months, days := spaces(timelineRuler), spaces(timelineRuler), spaces(timelineRuler)
	var year string
	for _, core := range cores {
		date := core.Date.String() // YYYY-MM-DD
		shown := ""
		if date[:4] != year {
			year, shown = date[:4], date[:4]
		}
		years += pad(shown, cell)
		months += pad(date[5:7], cell)
		days += pad(date[8:], cell)
	}
	p.line(years)
	p.line(pad(" month", timelineRuler), months[timelineRuler:])
	p.line(pad(" day", timelineRuler), days[timelineRuler:])
}

// slice is one row of one core: the filling of the layer at a depth.
func (p *page) slice(core reports.Core, depth float64, cell int) string {
	for _, l := range core.Layers {
		if depth < l.BottomMM() {
			return p.filling(l, 0, cell-1) + " "
		}
	}
	return spaces(cell)
}

func (p *page) numberRow(label string, cores []reports.Core, cell int, text func(core int) string) {
	line := pad(" "+label, timelineRuler)
	for i := range cores {
		line += pad(text(i), cell)
	}
	p.line(line)
}

// cellNumber is a length that fits beneath a core: whole mm, or hundredths of an inch.
func (p *page) cellNumber(e *reports.Estimate) string {
	switch {
	case e == nil:
		return p.missing
	case p.Units == layers.Inches:
		return words.Number(p.Units.Of(e.Value), 2)
	}
	return words.Number(e.Value, 0)
}

// eventMark numbers events by letters: a, b … z, then a again.
func eventMark(i int) string { return string(rune('a' + i%26)) }

// marksBefore are the marks of the events since the core before, that core's day
// included: one reads, then one works. The last core also takes those after it.
func marksBefore(cores []reports.Core, i int, events []layers.Event) (marks string) {
	var since, until layers.Date = 0, 1<<31 - 1
	if i > 0 {
		since = cores[i-1].Date
	}
	if i < len(cores)-1 {
		until = cores[i].Date
	}
	for n, e := range events {
		if since <= e.Date && e.Date < until && len(marks) < 3 {
			marks += eventMark(n)
		}
	}
	return marks
}

// timelineTrends writes each station's rates and the tank's.
func (p *page) timelineTrends(t reports.Timeline) {
	g := numbersGrid()
	m := words.Rate(p.Units)
	for _, s := range words.Rates(t) {
		if s.Growth != nil {
			g.rows = append(g.rows, p.number(s.Station+": mulm", s.Growth, m))
		}
		if s.Shift != nil {
			g.rows = append(g.rows, p.number(s.Station+": oxic front, "+words.Front(*s.Shift), s.Shift, m))
		}
	}
	if e := t.FloorShift; e != nil {
		g.rows = append(g.rows, p.number(words.FloorShift(e), e, m))
	}
	p.trendSection(words.Frames(t.FrontShift, t.FloorShift, p.Units), t.LimitReached, t.AsOf, g)
}
