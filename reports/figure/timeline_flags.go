package figure

import (
	"cmp"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// The measures of the flags, mm (assumptions).
const (
	flagWords   = 34.0 // the longest
	flagLanes   = 5
	flagPitch   = 3.4 // from lane to lane
	flagOffset  = 0.7 // from the pole to the words
	flagApart   = 1.6 // between the words of neighbours
	markSize    = 0.9 // half of a mark
	markPitch   = 2.3 // from mark to mark
	markRows    = 3   // of marks that stand near each other
	markClear   = 1.4 // from a mark's middle to the lowest words
	markToRows  = 1.5 // from a mark's middle to the first row's heading
	setUpAsMark = layers.EventKind("set up")
)

// eventFlag is an event on the time axis, with words where there is room.
type eventFlag struct {
	reports.EventMark
	all    string // its words
	text   string // as many as have room
	x      float64
	worded bool
	back   bool // the words end at the pole
	length float64
	lane   int
	row    int // of the mark
}

// span is what the words take to the left and right.
func (f eventFlag) span() (left, right float64) {
	if f.back {
		return f.x - flagOffset - f.length, f.x - flagOffset
	}
	return f.x + flagOffset, f.x + flagOffset + f.length
}

// flags are the events that lie on the time axis, those that have room with words.
func (l *timeline) flags() []eventFlag {
	var list []eventFlag
	add := func(e reports.EventMark, text string) {
		if e.Date >= l.time.from && e.Date <= l.time.end {
			list = append(list, eventFlag{EventMark: e, all: text, x: l.time.x(e.Date)})
		}
	}
	if set := l.record.SetUp; set != 0 {
		add(reports.EventMark{Date: set, Kind: setUpAsMark}, "set up")
	}
	for _, e := range l.record.Events {
		add(e, words.Event(e, l.Units))
	}
	l.word(list)
	spread(list)
	return list
}

// urgency is the order in which events are given words.
func urgency(k layers.EventKind) int {
	switch {
	case k.Splits():
		return 0
	case k == layers.EventDeadAnimal || k == layers.EventPlantMelt:
		return 1
	}
	return 2
}

// word gives words to as many flags as have room, the urgent ones first: their kinds to
// begin with, then all of it where that leaves none without.
func (l *timeline) word(list []eventFlag) {
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(urgency(list[a].Kind), urgency(list[b].Kind)), cmp.Compare(list[a].Date, list[b].Date))
	})
	var worded []*eventFlag
	for _, i := range order {
		f := &list[i]
		l.letter(f, words.Spaced(f.Kind))
		if f.worded = hoist(append(worded, f)); f.worded {
			worded = append(worded, f)
		}
	}
	for _, f := range worded {
		l.letter(f, f.all)
		if !hoist(worded) {
			l.letter(f, words.Spaced(f.Kind))
		}
	}
	hoist(worded)
}

// letter gives a flag its words. They end at its pole where the picture ends.
func (l *timeline) letter(f *eventFlag, text string) {
	f.text = l.fit(text, flagWords, small)
	f.length = l.length(f.text, small)
	f.back = f.x+flagOffset+f.length > pageWidth-margin
}

// hoist gives each flag the lowest lane in which its words touch no other's and cross no
// pole. It reports whether there are lanes enough.
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

// lifted is which of two flags has to go above which, nil where both may stay.
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

// touches reports whether the words of two flags would stand in each other's way.
func touches(a, b *eventFlag) bool {
	aLeft, aRight := a.span()
	bLeft, bRight := b.span()
	return aLeft < bRight+flagApart && bLeft < aRight+flagApart
}

// pierces reports whether b's pole stands where a has its words.
func pierces(a, b *eventFlag) bool {
	left, right := a.span()
	return b.x > left-flagOffset/2 && b.x < right+flagOffset
}

// spread puts marks that stand near each other into rows.
func spread(flags []eventFlag) {
	var last [markRows]float64 // the place of each row's newest mark
	for i := range flags {
		f := &flags[i]
		for n := range last {
			if f.x-last[n] >= markPitch {
				f.row = n
				break
			}
			if last[n] < last[f.row] {
				f.row = n // no row has room: the one with the most
			}
		}
		last[f.row] = f.x
	}
}
