package timeline

import (
	"cmp"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// endWord is what stands beside the end of a line: a name, what is said of it on the same
// line where it has room, and the rest below.
type endWord struct {
	name, beside string
	rest         []string
	ink          pen.Ink
	from         pen.Point // the line's end
	y            float64   // the top of the words
	lead         bool      // whether a thin line leads to them where they stand elsewhere
}

func (w endWord) height() float64 { return pen.Leading * pen.SmallSize * float64(1+len(w.rest)) }

// The places of the words at the lines' ends, mm.
const (
	endWordGap = 0.8
	endLead    = 2.8
)

// endWordsX is where the words at the ends of a row's lines begin.
func (l *picture) endWordsX(r *stationRow, first bool) float64 {
	x := r.slots[len(r.slots)-1].right
	if first && l.record.LimitReached != nil {
		x = max(x, l.time.x(l.time.now))
	}
	return x + endLead
}

// wordsAtEnd are the words beside a row's newest core, placed.
func (l *picture) wordsAtEnd(r *stationRow, first bool) []endWord {
	room := pen.PageWidth - pen.Margin - l.endWordsX(r, first)
	list := l.lastDepths(r, room)
	var taken []stretch
	if first && l.record.LimitReached != nil {
		limit := l.limitWords(room)
		for _, w := range list {
			limit.from.Y = max(limit.from.Y, w.from.Y) // below the others, but for its own place
		}
		if l.limitInView(r) {
			limit.from.Y = l.yAhead(r, l.record.LimitReached.LimitMM)
		}
		list = append(list, limit)
		taken = l.takenAhead(r)
	}
	slices.SortStableFunc(list, func(a, b endWord) int { return cmp.Compare(a.from.Y, b.from.Y) })
	placeWords(list, r.top-endWordGap, taken)
	return list
}

// newEndWord sets a name and what is said of it in the room there is.
func (l *picture) newEndWord(name, text string, ink pen.Ink, room float64) endWord {
	w := endWord{name: l.Fit(name, room, pen.Small.Strong()), ink: ink}
	if l.Length(w.name, pen.Small.Strong())+besideGap+l.Length(text, pen.Small) <= room {
		w.beside = text
	} else {
		w.rest = l.Wrap(text, room, pen.Small)
	}
	return w
}

// besideGap is from a name to what is said of it, mm.
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

// limitWords tell the limit and when the tank's mulm reaches it.
func (l *picture) limitWords(room float64) endWord {
	f := *l.record.LimitReached
	return l.newEndWord("mulm limit "+words.OnRuler(l.Units, f.LimitMM)+" "+l.Units.String(), "the tank's mean "+whenReached(f, l.record.AsOf), pen.InkLimit, room)
}

// whenReached says in a few words when the mulm reaches its limit.
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

// endWords writes the words beside a row's newest core, with leads to those that stand
// elsewhere than their lines end.
func (l *picture) endWords(r *stationRow) {
	x := l.endWordsX(r, r == &l.rows[0])
	for _, w := range r.words {
		l.Rect(x-0.3, w.y, l.widest(w)+0.6, w.height(), pen.InkPaper) // no hair runs through words
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

// widest is the length of the longest line of words.
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
