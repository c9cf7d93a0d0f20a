package timeline

import (
	"cmp"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// endWord are the words at the end of a line: a name, and a text beside it if there is room,
// else below.
type endWord struct {
	name, beside string
	rest         []string
	ink          pen.Ink
	from         pen.Point // the line's end
	y            float64   // the top of the words
	lead         bool      // a thin line joins them to the line's end
}

func (w endWord) height() float64 { return pen.Leading * pen.SmallSize * float64(1+len(w.rest)) }

// Gaps of the words at the ends of lines, mm (assumptions).
const (
	endWordGap = 0.8
	endLead    = 2.8
)

// endWordsX is where the words at the end of a row begin.
func (l *picture) endWordsX(r *stationRow, first bool) float64 {
	x := r.slots[len(r.slots)-1].right
	if first && l.record.LimitReached != nil {
		x = max(x, l.time.x(l.time.now))
	}
	return x + endLead
}

// wordsAtEnd are the words beside a row's newest core, placed.
func (l *picture) wordsAtEnd(r *stationRow, first bool) []endWord {
	room := pen.PaperWidth - pen.Margin - l.endWordsX(r, first)
	list := l.lastDepths(r, room)
	var taken []stretch
	if first && l.record.LimitReached != nil {
		limit := l.limitWords(room)
		for _, w := range list {
			limit.from.Y = max(limit.from.Y, w.from.Y) // below the others, unless the limit is in view
		}
		if l.limitInView(r) {
			limit.from.Y = l.yAhead(r, l.record.LimitReached.LimitMM)
		}
		list = append(list, limit)
		taken = l.takenAhead(r)
	}
	slices.SortStableFunc(list, func(a, b endWord) int { return cmp.Compare(a.from.Y, b.from.Y) })
	place(list, free(r.top-endWordGap, taken))
	return list
}

// newEndWord sets a name and its text in a width, mm.
func (l *picture) newEndWord(name, text string, ink pen.Ink, room float64) endWord {
	w := endWord{name: l.Fit(name, room, pen.Small.Strong()), ink: ink}
	if l.Length(w.name, pen.Small.Strong())+besideGap+l.Length(text, pen.Small) <= room {
		w.beside = text
	} else {
		w.rest = l.Wrap(text, room, pen.Small)
	}
	return w
}

// besideGap is the gap between a name and its text, mm.
const besideGap = 1.0

// lastDepths are the words for the newest core's two depths.
func (l *picture) lastDepths(r *stationRow, room float64) (list []endWord) {
	last := len(r.Cores) - 1
	core := r.Cores[last]
	for i, e := range [...]*reports.Estimate{core.Mulm, core.OxicDepth} {
		if e == nil {
			continue
		}
		d := l.depthLines()[i]
		w := l.newEndWord(d.short, words.Length(l.Units).Estimate(*e), d.ink, room)
		w.lead, w.from = true, pen.At(r.slots[last].right+0.4, r.within(r.y(d.depth(*e), core.DepthMM())))
		list = append(list, w)
	}
	return list
}

// limitWords name the limit and say when the tank's mulm reaches it.
func (l *picture) limitWords(room float64) endWord {
	f := *l.record.LimitReached
	return l.newEndWord("mulm limit "+words.Depth(l.Units, f.LimitMM), "the tank's mean "+whenReached(f, l.record.AsOf), pen.InkLimit, room)
}

func whenReached(f reports.Forecast, asOf layers.Date) string {
	month := func(d *layers.Date) string { return d.String()[:len("2006-01")] }
	switch {
	case f.Earliest == nil:
		return "may never reach it"
	case f.Expected == nil:
		return "in " + month(f.Earliest) + " at the earliest, or never"
	case *f.Expected <= asOf:
		return "has reached it"
	case month(f.Earliest) == month(f.Expected):
		return "about " + month(f.Expected)
	}
	return "about " + month(f.Expected) + ", " + month(f.Earliest) + " at the earliest"
}

// endWords writes the words beside a row's newest core, joined to the ends of their lines.
func (l *picture) endWords(r *stationRow) {
	x := l.endWordsX(r, r == &l.rows[0])
	for _, w := range r.words {
		l.Rect(x-0.3, w.y, l.widest(w)+0.6, w.height(), pen.InkPaper) // keeps hairs out of the words
		y := w.y + 0.5*pen.Leading*pen.SmallSize
		if w.lead {
			l.Line(pen.Stroke{Ink: w.ink, Width: 0.2}, w.from, pen.At(w.from.X+0.5, w.from.Y), pen.At(x-1, y), pen.At(x-0.5, y))
		}
		y += 0.36 * pen.SmallSize
		name := pen.Small.Strong().InInk(w.ink)
		l.Text(x, y, w.name, name)
		l.Text(x+l.Length(w.name, name)+besideGap, y, w.beside, pen.Small)
		for _, line := range w.rest {
			y += pen.Leading * pen.SmallSize
			l.Text(x, y, line, pen.Small)
		}
	}
}

// widest is the width of the longest line, mm.
func (l *picture) widest(w endWord) float64 {
	width := l.Length(w.name, pen.Small.Strong())
	if w.beside != "" {
		width += besideGap + l.Length(w.beside, pen.Small)
	}
	for _, line := range w.rest {
		width = max(width, l.Length(line, pen.Small))
	}
	return width
}
