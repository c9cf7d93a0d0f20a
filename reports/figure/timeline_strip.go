package figure

import (
	"math"

	"panecore/layers"
	"panecore/reports/words"
)

// strip draws the flags below y and returns where the rows begin.
func (l *timeline) strip(flags []eventFlag, y float64) float64 {
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
		at := point{f.x, marks - float64(f.row)*markPitch}
		l.group(l.flagWords(f), func() {
			if f.worded {
				base := lowest - float64(f.lane)*flagPitch - descent*smallSize
				l.line(stroke{ink: inkSoft, width: 0.15}, point{f.x, base - ascent*smallSize}, at)
				left, _ := f.span()
				l.text(left, base, f.text, small)
			}
			l.mark(f.Kind, at)
		})
	}
	return marks + markToRows
}

// flagWords tell a flag's event, and those that are counted to it.
func (l *timeline) flagWords(f eventFlag) string {
	text := words.EventDated(f.EventMark, l.Units)
	for _, other := range f.more {
		text += "; " + words.EventDated(other.EventMark, l.Units)
	}
	return text
}

// mark draws the sort of an event as a shape: what takes away points up, what adds points
// down.
func (l *timeline) mark(k layers.EventKind, at point) {
	const r = markSize
	ink := inkWord
	thin := stroke{ink: ink, width: 0.35}
	l.dots(inkPaper, r+0.2, at)
	off := func(x, y float64) point { return point{at.x + x*r, at.y + y*r} }
	switch k {
	case layers.EventSiphon:
		l.area(ink, off(0, -1), off(1, 0.8), off(-1, 0.8))
	case layers.EventTopUpSubstrate:
		l.area(ink, off(0, 1), off(1, -0.8), off(-1, -0.8))
	case layers.EventStir:
		l.lines(thin, []point{off(-0.8, -0.8), off(0.8, 0.8)}, []point{off(-0.8, 0.8), off(0.8, -0.8)})
	case layers.EventWaterChange:
		ring := make([]point, 25)
		for i := range ring {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(ring)-1))
			ring[i] = off(0.8*cos, 0.8*sin)
		}
		l.line(thin, ring...)
	case layers.EventReplant:
		l.area(ink, off(0, -1), off(0.75, 0), off(0, 1), off(-0.75, 0))
	case layers.EventDeadAnimal:
		l.rect(at.x-0.75*r, at.y-0.75*r, 1.5*r, 1.5*r, ink)
	case layers.EventPlantMelt:
		l.frame(at.x-0.7*r, at.y-0.7*r, 1.4*r, 1.4*r, thin)
	case setUpAsMark:
		l.lines(thin, []point{off(0, -0.9), off(0, 0.8)}, []point{off(-0.8, 0.8), off(0.8, 0.8)})
	default:
		l.dots(ink, 0.5*r, at)
	}
}

// poles draws the days of the events down through the rows, behind the cores.
func (l *timeline) poles(events []eventFlag) {
	l.throughRows(stroke{ink: inkHair, width: 0.15}, events, func(layers.EventKind) bool { return true })
}

// cuts draws the days of removals over the cores: there the record begins anew.
func (l *timeline) cuts(events []eventFlag) {
	l.throughRows(stroke{ink: inkPaper, width: 0.2 + halo}, events, layers.EventKind.Splits)
	l.throughRows(stroke{ink: inkWord, width: 0.18, dash: 0.5, gap: 0.5}, events, layers.EventKind.Splits)
}

func (l *timeline) throughRows(s stroke, events []eventFlag, which func(layers.EventKind) bool) {
	var parts [][]point
	for _, f := range events {
		if !which(f.Kind) {
			continue
		}
		for _, r := range l.rows {
			parts = append(parts, []point{{f.x, r.top - 0.4}, {f.x, r.foot}})
		}
	}
	l.lines(s, parts...)
}
