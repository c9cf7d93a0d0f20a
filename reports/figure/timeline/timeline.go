package timeline

import (
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// Options say how a tank's record is drawn.
type Options struct {
	Units layers.Units
	Align Align // what the cores stand in line by
}

// Draw draws a tank's cores along time, a row for each station, all to one scale: the
// layers in the colours as read, the mulm and the colour oxic depth joined by lines with
// the bands of their trends, what befell the tank as flags above, and the tank's mulm
// ahead to its limit in the first row.
func Draw(t reports.Timeline, o Options) *pen.Figure { return newPicture(t, o).Figure }

const headingGap = 2.0 // mm

func newPicture(t reports.Timeline, o Options) *picture {
	t.Stations = slices.DeleteFunc(slices.Clone(t.Stations), func(s reports.StationLine) bool { return len(s.Cores) == 0 })
	l := &picture{Figure: pen.NewFigure(words.TankName(t.ID, t.Name)+": the bed along time", pen.PageWidth), Options: o, record: t}
	if len(t.Stations) == 0 {
		l.Desc = "No core has been read."
		l.Notes(l.Heading(l.Title, "", l.Desc), nil)
		return l
	}
	y := l.Heading(l.Title, l.span()+".", l.answer()) + headingGap
	l.scale = l.depthScale()
	l.left = l.rulerWidth()
	l.time = l.timeScale()
	events := l.events()
	flags := l.flags(events)
	l.rows = l.placeRows(l.strip(flags, y), removals(events))
	foot := l.rows[len(l.rows)-1].low
	l.years(foot)
	l.poles(events)
	for i := range l.rows {
		l.row(&l.rows[i])
	}
	l.cuts(events)
	for i := range l.rows {
		l.gaps(&l.rows[i])
		l.bands(&l.rows[i])
	}
	l.ahead(&l.rows[0])
	for i := range l.rows {
		l.readings(&l.rows[i])
		l.endWords(&l.rows[i])
	}
	l.foot(events, flags, l.axis(foot))
	l.Desc = l.told()
	return l
}

// picture is a tank's record as it is drawn.
type picture struct {
	*pen.Figure
	Options
	record reports.Timeline
	scale  float64 // mm on paper for a mm of bed
	left   float64 // where the rulers stand
	time   timeScale
	rows   []stationRow
}
