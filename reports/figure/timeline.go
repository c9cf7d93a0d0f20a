package figure

import (
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// TimelineOptions say how a tank's record is drawn.
type TimelineOptions struct {
	Units layers.Units
	Align Align // what the cores stand in line by
}

// Timeline draws a tank's cores along time, a row for each station, all to one scale: the
// layers in the colours as read, the mulm and the colour oxic depth joined by lines with
// the bands of their trends, what befell the tank as flags above, and the tank's mulm
// ahead to its limit in the first row.
func Timeline(t reports.Timeline, o TimelineOptions) *Figure { return drawTimeline(t, o).Figure }

const headingGap = 2.0 // mm

func drawTimeline(t reports.Timeline, o TimelineOptions) *timeline {
	t.Stations = slices.DeleteFunc(slices.Clone(t.Stations), func(s reports.StationLine) bool { return len(s.Cores) == 0 })
	l := &timeline{Figure: newFigure(words.TankName(t.ID, t.Name)+": the bed along time", pageWidth), TimelineOptions: o, record: t}
	if len(t.Stations) == 0 {
		l.Desc = "No core has been read."
		l.notes(l.heading(l.Title, "", l.Desc), nil)
		return l
	}
	y := l.heading(l.Title, l.span()+".", l.answer()) + headingGap
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

// timeline is a tank's record as it is drawn.
type timeline struct {
	*Figure
	TimelineOptions
	record reports.Timeline
	scale  float64 // mm on paper for a mm of bed
	left   float64 // where the rulers stand
	time   timeScale
	rows   []stationRow
}
