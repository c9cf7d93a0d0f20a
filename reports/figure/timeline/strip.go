package timeline

import (
	"panecore/layers"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// strip draws the flags from y downward and returns where the rows begin.
func (l *picture) strip(flags []eventFlag, y float64) float64 {
	if len(flags) == 0 {
		return y
	}
	lanes, rows := 0, 0
	for _, f := range flags {
		rows = max(rows, f.row)
		if f.worded {
			lanes = max(lanes, f.lane+1)
		}
	}
	lowest := y + float64(lanes)*flagPitch
	marks := lowest + markClear + float64(rows)*markPitch
	for _, f := range flags {
		at := pen.At(f.x, marks-float64(f.row)*markPitch)
		l.Group(l.flagWords(f), func() {
			if f.worded {
				base := lowest - float64(f.lane)*flagPitch - pen.Descent*pen.SmallSize
				l.Line(pen.Stroke{Ink: pen.InkSoft, Width: 0.15}, pen.At(f.x, base-pen.Ascent*pen.SmallSize), at)
				left, _ := f.span()
				l.Text(left, base, f.text, pen.Small)
			}
			l.mark(f.Kind, at)
		})
	}
	return marks + markToRows
}

func (l *picture) flagWords(f eventFlag) string {
	text := words.EventDated(f.Event, l.Units)
	for _, other := range f.more {
		text += "; " + words.EventDated(other.Event, l.Units)
	}
	return text
}

// mark draws the kind of an event as a shape: one that takes away points up, one that adds
// points down.
func (l *picture) mark(k layers.EventKind, at pen.Point) {
	const r = markSize
	ink := pen.InkWord
	thin := pen.Stroke{Ink: ink, Width: 0.35}
	l.Dots(pen.InkPaper, r+0.2, at)
	off := func(x, y float64) pen.Point { return pen.At(at.X+x*r, at.Y+y*r) }
	switch k {
	case layers.EventSiphon:
		l.Area(ink, off(0, -1), off(1, 0.8), off(-1, 0.8))
	case layers.EventTopUpSubstrate:
		l.Area(ink, off(0, 1), off(1, -0.8), off(-1, -0.8))
	case layers.EventStir:
		l.Lines(thin, []pen.Point{off(-0.8, -0.8), off(0.8, 0.8)}, []pen.Point{off(-0.8, 0.8), off(0.8, -0.8)})
	case layers.EventWaterChange:
		l.Line(thin, pen.Circle(at, 0.8*r, 24)...)
	case layers.EventReplant:
		l.Area(ink, off(0, -1), off(0.75, 0), off(0, 1), off(-0.75, 0))
	case layers.EventDeadAnimal:
		l.Rect(at.X-0.75*r, at.Y-0.75*r, 1.5*r, 1.5*r, ink)
	case layers.EventPlantMelt:
		l.Frame(at.X-0.7*r, at.Y-0.7*r, 1.4*r, 1.4*r, thin)
	case setUpAsMark:
		l.Lines(thin, []pen.Point{off(0, -0.9), off(0, 0.8)}, []pen.Point{off(-0.8, 0.8), off(0.8, 0.8)})
	default:
		l.Dots(ink, 0.5*r, at)
	}
}

// poles draws the days of events through the rows, behind the cores.
func (l *picture) poles(events []eventFlag) {
	l.throughRows(pen.Stroke{Ink: pen.InkHair, Width: 0.15}, events, func(layers.EventKind) bool { return true })
}

// cuts draws the days of removals over the cores: there the record starts again.
func (l *picture) cuts(events []eventFlag) {
	l.throughRows(pen.Stroke{Ink: pen.InkPaper, Width: 0.2 + pen.Halo}, events, layers.EventKind.Splits)
	l.throughRows(pen.Stroke{Ink: pen.InkWord, Width: 0.18, Dash: 0.5, Gap: 0.5}, events, layers.EventKind.Splits)
}

func (l *picture) throughRows(s pen.Stroke, events []eventFlag, which func(layers.EventKind) bool) {
	var parts [][]pen.Point
	for _, f := range events {
		if !which(f.Kind) {
			continue
		}
		for _, r := range l.rows {
			parts = append(parts, []pen.Point{pen.At(f.x, r.head-0.4), pen.At(f.x, r.foot)})
		}
	}
	l.Lines(s, parts...)
}
