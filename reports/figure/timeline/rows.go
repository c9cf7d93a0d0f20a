package timeline

import (
	"strings"

	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// rowSizes are the heights of rows, mm.
type rowSizes struct {
	all   float64 // together
	most  float64
	least float64 // of the deepest row
}

// The layout of the rows, mm (assumptions: fits on a page and stays distinct; strips also show their grains).
var (
	coreRows  = rowSizes{100, 45, 22}
	stripRows = rowSizes{180, 80, 40}
)

const (
	leastOther = 9.0 // the least height of a row that is not the deepest
	rowHeading = 5.2 // above each row

	headingClear = 1.6  // from the heading's baseline to the bed
	leastRates   = 20.0 // the least room for the rates
)

type stationRow struct {
	reports.StationLine
	align     Align
	scale     float64 // mm on paper per mm of bed
	head      float64 // where it begins, with the water of its strips, mm
	top, foot float64 // where its bed begins and ends, mm
	low       float64 // where it ends with the words beside it, mm
	slots     []slot
	words     []endWord
}

// y is the place of a depth in a core that was seen down to seen, mm.
func (r *stationRow) y(depth, seen float64) float64 {
	if r.align == AlignFloor {
		return r.foot - (seen-depth)*r.scale
	}
	return r.top + depth*r.scale
}

// within limits a place to the row.
func (r *stationRow) within(y float64) float64 { return min(max(y, r.top), r.foot) }

// depths are how many mm of bed each row shows: its deepest core and, in the first row, the
// mulm ahead and its limit.
func (l *picture) depths() []float64 {
	list := make([]float64, len(l.record.Stations))
	for i, s := range l.record.Stations {
		for _, core := range s.Cores {
			list[i] = max(list[i], core.DepthMM())
		}
	}
	list[0] = max(list[0], l.depthAhead(list[0]))
	return list
}

// depthScale makes the deepest row as high as the number of rows allows.
func (l *picture) depthScale() float64 {
	deepest := 1.0
	for _, d := range l.depths() {
		deepest = max(deepest, d)
	}
	size := coreRows
	if len(l.strips) > 0 {
		size = stripRows
	}
	return min(size.most, max(size.least, size.all/float64(len(l.record.Stations)))) / (deepest + l.water())
}

// placeRows stacks the rows from y downward.
func (l *picture) placeRows(y float64, removals []float64) []stationRow {
	rows := make([]stationRow, len(l.record.Stations))
	for i, depth := range l.depths() {
		r := stationRow{StationLine: l.record.Stations[i], align: l.Align, scale: l.scale}
		r.head = y + rowHeading
		r.top = r.head + l.water()*l.scale
		r.foot = r.top + max(leastOther, depth*l.scale)
		var places []float64
		for _, core := range r.Cores {
			places = append(places, l.time.x(core.Date))
		}
		r.slots = slotsOf(places, removals, l.time.coreWidth)
		r.words = l.wordsAtEnd(&r, i == 0)
		r.low = r.foot
		for _, w := range r.words {
			r.low = max(r.low, w.y+w.height())
		}
		y = r.low
		rows[i] = r
	}
	return rows
}

func (l *picture) row(r *stationRow) {
	l.rowHeading(r)
	l.ruler(r)
	for i, core := range r.Cores {
		l.Group(l.coreWords(core), func() { l.core(r, i) })
	}
}

func (l *picture) rowHeading(r *stationRow) {
	name := pen.Usual.Strong()
	x, y, room := l.left, r.head-headingClear, pen.PaperWidth-pen.Margin-l.left
	station := l.Fit(r.Station, room, name)
	l.Text(x, y, station, name)
	if used := l.Length(station, name) + 2; room-used > leastRates {
		l.Text(x+used, y, l.Fit(l.rates(r.StationLine), room-used, pen.Small), pen.Small)
	}
}

func (l *picture) rates(s reports.StationLine) string {
	m := words.Rate(l.Units)
	var parts []string
	if e := s.Accumulation; e != nil {
		parts = append(parts, "mulm "+m.Estimate(*e))
	}
	if e := s.FrontShift; e != nil {
		parts = append(parts, "oxic front "+m.Estimate(*e)+", "+words.Front(*e))
	}
	return strings.Join(parts, "; ")
}

// gaps hatches the periods in which a station was not read.
func (l *picture) gaps(r *stationRow) {
	hair := pen.Stroke{Ink: pen.InkHair, Width: 0.15}
	for _, g := range r.Gaps {
		left, right := l.time.x(g.From)+l.time.coreWidth/2+0.7, l.time.x(g.Until)-l.time.coreWidth/2-0.7
		if right-left < 1 {
			continue
		}
		b := pen.Box{Left: left, Top: r.top, Right: right, Foot: r.foot}
		l.Lines(hair, b.Slanted(2.2, -1)...)
		const text = "not read"
		if w := l.Length(text, pen.Small) + 1.6; w <= right-left {
			x, y := (left+right)/2, (r.top+r.foot)/2
			l.Rect(x-w/2, y-pen.SmallSize/2-0.7, w, pen.SmallSize+1.4, pen.InkPaper)
			l.Text(x, y+0.36*pen.SmallSize, text, pen.Small.To(pen.Centred))
		}
	}
}
