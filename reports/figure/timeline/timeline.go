// Package timeline draws a tank's record over time. It computes nothing that it shows.
package timeline

import (
	"fmt"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// Options say how a tank's record is drawn.
type Options struct {
	Units layers.Units
	Align Align

	strips []reports.Strip // see Years
}

// Figure draws a tank's cores over time, a row for each station, all to one scale: layers in
// the colours as read, lines for the mulm and the colour oxic depth with the bands of their
// trends, events as flags above, the span of a runaway that is told, and in the first row the tank's mulm ahead to its limit.
func Figure(t reports.Timeline, o Options) *pen.Figure { return newPicture(t, o).Figure }

const headingGap = 2.0 // mm

func newPicture(t reports.Timeline, o Options) *picture {
	t.Stations = slices.DeleteFunc(slices.Clone(t.Stations), func(s reports.StationLine) bool { return len(s.Cores) == 0 })
	name := "the bed over time"
	if len(o.strips) > 0 {
		name = "the strip of years"
	}
	l := &picture{Figure: pen.NewFigure(words.TankName(t.ID, t.Name)+": "+name, pen.PaperWidth), Options: o, record: t}
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
	l.rows = l.placeRows(l.runaway(l.strip(flags, y)), removals(events))
	foot := l.rows[len(l.rows)-1].low
	l.years(foot)
	l.poles(events)
	l.runawayBegins()
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
	l.Desc = l.description()
	return l
}

type picture struct {
	*pen.Figure
	Options
	record reports.Timeline
	scale  float64 // mm on paper per mm of bed
	left   float64 // the place of the rulers, mm
	time   timeScale
	rows   []stationRow
}

// Align is the part of the cores that is level in a timeline; the surface where it is empty.
type Align string

// The alignments.
const (
	AlignSurface Align = "surface" // the ruler shows depths
	AlignFloor   Align = "floor"   // the lowest point seen: the bed grows upward, as behind the glass
)

// ParseAlign reads "surface" or "floor".
func ParseAlign(s string) (Align, error) {
	switch a := Align(s); a {
	case AlignSurface, AlignFloor:
		return a, nil
	}
	return "", fmt.Errorf("found alignment %q, want surface or floor", s)
}
