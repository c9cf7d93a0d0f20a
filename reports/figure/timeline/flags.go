package timeline

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// The layout of the flags, mm (assumptions).
const (
	flagWords   = 34.0 // longest text with another flag after it
	flagLanes   = 5
	flagPitch   = 3.4       // from lane to lane
	flagOffset  = 0.7       // from the pole to the words
	flagApart   = 1.6       // between the words of neighbours
	markSize    = 0.9       // half of a mark
	markPitch   = 2.3       // from mark to mark
	markRows    = flagLanes // marks above each other: as many as can have words
	leastNote   = 2         // words: fewer of a note are no use
	markClear   = 1.4       // from a mark's middle to the lowest words
	markToRows  = 1.5       // from a mark's middle to the first row's heading
	setUpAsMark = layers.EventKind("set up")
)

// eventFlag is an event on the time axis, with words where there is room.
type eventFlag struct {
	layers.Event
	head   string      // the event without its note
	text   string      // as much of it as has room
	more   []eventFlag // close to it, without room for marks of their own
	x      float64     // mm
	worded bool
	back   bool    // the words end at the pole
	length float64 // of the words, mm
	lane   int
	row    int // of the mark
}

// span are the words' left and right ends, mm.
func (f eventFlag) span() (left, right float64) {
	if f.back {
		return f.x - flagOffset - f.length, f.x - flagOffset
	}
	return f.x + flagOffset, f.x + flagOffset + f.length
}

// events are the events on the time axis, the urgent ones first.
func (l *picture) events() (list []eventFlag) {
	add := func(e layers.Event) {
		if e.Date >= l.time.from && e.Date <= l.time.end {
			bare := e
			bare.Note = ""
			list = append(list, eventFlag{Event: e, head: words.Event(bare, l.Units), x: l.time.x(e.Date)})
		}
	}
	if set := l.record.SetUp; set != 0 {
		add(layers.Event{Date: set, Kind: setUpAsMark})
	}
	for _, e := range l.record.Events {
		add(e)
	}
	slices.SortStableFunc(list, func(a, b eventFlag) int {
		return cmp.Or(cmp.Compare(urgency(a.Kind), urgency(b.Kind)), cmp.Compare(a.Date, b.Date))
	})
	return list
}

// removals are the places of the events that break the record, mm.
func removals(events []eventFlag) (places []float64) {
	for _, e := range events {
		if e.Kind.Splits() {
			places = append(places, e.x)
		}
	}
	return places
}

// flags are the marks of events, with words where they have room.
func (l *picture) flags(events []eventFlag) []eventFlag {
	list := spread(events)
	l.word(list)
	return list
}

// urgency is the order in which events are given words.
func urgency(k layers.EventKind) int {
	switch {
	case k.Splits():
		return 0
	case k == layers.EventDeadAnimal || k == layers.EventPlantMelt || k == layers.EventGasping || k == layers.EventEggSmell || k == layers.EventWhiteThreads:
		return 1
	}
	return 2
}

// word gives words to as many flags as have room, the urgent ones first: at first only their
// kinds, then more where no other flag loses its words.
func (l *picture) word(list []eventFlag) {
	var worded []*eventFlag
	for i := range list {
		f := &list[i]
		l.letter(f, words.Spaced(f.Kind)+f.others())
		if f.worded = hoist(append(worded, f)); f.worded {
			worded = append(worded, f)
		}
	}
	for _, f := range worded {
		kind := f.text
		for _, text := range []string{l.cut(f, l.room(f, worded)), l.cut(f, flagWords), kind} {
			if l.letter(f, text); hoist(worded) {
				break
			}
		}
	}
	hoist(worded)
}

// others counts the events that a flag stands for besides its own.
func (f *eventFlag) others() string {
	if len(f.more) == 0 {
		return ""
	}
	return " + " + words.Count(len(f.more), "event")
}

// room is how wide a flag's words may be before they reach the next pole or the picture's end.
func (l *picture) room(f *eventFlag, worded []*eventFlag) float64 {
	end := pen.PaperWidth - pen.Margin + flagApart
	for _, other := range worded {
		if other.x > f.x {
			end = min(end, other.x)
		}
	}
	return max(flagWords, end-flagApart-f.x-flagOffset)
}

// cut is a flag's text, no wider than width. Its note is cut at a word, or dropped if too few
// words are left.
func (l *picture) cut(f *eventFlag, width float64) string {
	note := strings.Fields(f.Note)
	for n := len(note); n > 0; n-- {
		said := strings.Join(note[:n], " ")
		if n < len(note) {
			if n < leastNote {
				break
			}
			said = strings.TrimRight(said, ",;:.") + " …"
		}
		if text := f.head + ": " + said + f.others(); l.Length(text, pen.Small) <= width {
			return text
		}
	}
	return l.Fit(f.head, width-l.Length(f.others(), pen.Small), pen.Small) + f.others()
}

// letter gives a flag its words, to the left of its pole where the picture ends too soon.
func (l *picture) letter(f *eventFlag, text string) {
	f.text = text
	f.length = l.Length(f.text, pen.Small)
	f.back = f.x+flagOffset+f.length > pen.PaperWidth-pen.Margin
}

// hoist gives each flag the lowest lane in which its words touch no others and no pole crosses
// them. It reports whether the lanes are enough.
func hoist(flags []*eventFlag) bool {
	for _, f := range flags {
		f.lane = 0
	}
	for settled := false; !settled; {
		settled = true
		for i, a := range flags {
			for _, b := range flags[:i] {
				up, over := lifted(a, b)
				if up == nil {
					continue
				}
				if up.lane = over.lane + 1; up.lane >= flagLanes || pierces(over, up) {
					return false
				}
				settled = false
			}
		}
	}
	return true
}

// lifted says which of two flags must go up over the other; nil: both may stay.
func lifted(a, b *eventFlag) (up, over *eventFlag) {
	switch {
	case a.lane <= b.lane && pierces(a, b):
		return a, b
	case b.lane <= a.lane && pierces(b, a):
		return b, a
	case a.lane != b.lane || !touches(a, b):
		return nil, nil
	case a.x < b.x:
		return a, b
	}
	return b, a
}

// touches reports whether the words of two flags overlap or nearly so.
func touches(a, b *eventFlag) bool {
	aLeft, aRight := a.span()
	bLeft, bRight := b.span()
	return aLeft < bRight+flagApart && bLeft < aRight+flagApart
}

// pierces reports whether b's pole crosses a's words.
func pierces(a, b *eventFlag) bool {
	left, right := a.span()
	return b.x > left-flagOffset/2 && b.x < right+flagOffset
}

// spread puts the marks of events into rows so that none overlap, in the order given. An event
// without room in any row goes to the nearest mark.
func spread(events []eventFlag) (marked []eventFlag) {
	for _, f := range events {
		inTheWay := func(m eventFlag) bool { return m.row == f.row && math.Abs(m.x-f.x) < markPitch }
		for slices.ContainsFunc(marked, inTheWay) {
			f.row++
		}
		if f.row < markRows {
			marked = append(marked, f)
			continue
		}
		nearest := &marked[0]
		for i := range marked {
			if math.Abs(marked[i].x-f.x) <= math.Abs(nearest.x-f.x) {
				nearest = &marked[i]
			}
		}
		nearest.more = append(nearest.more, f)
	}
	return marked
}
