package timeline

import (
	"panecore/layers"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// The layout of a runaway's span, mm (assumptions).
const (
	runawayBar    = 0.9 // the bar's thickness: the heaviest line of the picture, so that it reads in grey
	runawayEnd    = 2.2 // the height of the ticks at its ends
	runawayWords  = 1.3 // from the bar to the words above it
	runawayToRows = 1.2 // from the bar to the first row's heading
	runawayLeast  = 1.6 // the least length of the bar
	runawayDash   = 1.4
	runawayBreak  = 0.9
	runawayWidth  = 0.3
)

// runawaySpan is where a runaway that is told begins and ends, mm: at the newest reading. One that began
// before the picture begins at its left.
func (l *picture) runawaySpan() (from, until float64) {
	newest := l.lastCore()
	until = l.time.x(newest)
	from = l.time.x(min(newest, max(l.time.from, l.since())))
	return min(from, until-runawayLeast), until
}

// since is the day on which the runaway began, that of the newest reading if it is not known.
func (l *picture) since() layers.Date {
	if since := l.record.Watch.Since; since != 0 {
		return since
	}
	return l.lastCore()
}

// runaway draws the span of a runaway that is told, in a lane of its own from y downward, and returns
// where the rows begin.
func (l *picture) runaway(y float64) float64 {
	if !l.record.Watch.Runaway() {
		return y
	}
	text, how := words.RunawaySince(l.record.Watch), pen.Small.Strong().InInk(pen.InkLimit)
	from, until := l.runawaySpan()
	base := y + pen.Ascent*pen.SmallSize
	bar := base + pen.Descent*pen.SmallSize + runawayWords
	l.Group(words.Runaway(l.record.Watch), func() {
		l.Text(min(from, pen.PaperWidth-pen.Margin-l.Length(text, how)), base, text, how)
		l.Rect(from, bar-runawayBar/2, until-from, runawayBar, pen.InkLimit)
		tick := pen.Stroke{Ink: pen.InkLimit, Width: runawayBar / 2}
		for _, x := range [...]float64{from + runawayBar/4, until - runawayBar/4} {
			l.Line(tick, pen.At(x, bar-runawayEnd/2), pen.At(x, bar+runawayEnd/2))
		}
	})
	return bar + runawayEnd/2 + runawayToRows
}

// runawayBegins draws the day on which a runaway that is told began through the rows, behind the cores.
func (l *picture) runawayBegins() {
	if w := l.record.Watch; !w.Runaway() || w.Since < l.time.from {
		return
	}
	x, _ := l.runawaySpan()
	var parts [][]pen.Point
	for _, r := range l.rows {
		parts = append(parts, []pen.Point{pen.At(x, r.head-headingClear/2), pen.At(x, r.foot)})
	}
	l.Lines(pen.Stroke{Ink: pen.InkLimit, Width: runawayWidth, Dash: runawayDash, Gap: runawayBreak}, parts...)
}
