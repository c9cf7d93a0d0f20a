package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// span is the period and the number of cores and stations.
func (l *picture) span() string {
	cores := 0
	for _, s := range l.record.Stations {
		cores += len(s.Cores)
	}
	text := l.firstCore().String() + " to " + l.lastCore().String()
	if l.firstCore() == l.lastCore() {
		text = l.lastCore().String()
	}
	if l.lastDay() > l.lastCore() {
		text += " (as of " + l.lastDay().String() + ")"
	}
	text += ", " + words.Count(cores, "core") + " at " + words.Count(len(l.record.Stations), "station")
	if l.record.SetUp != 0 {
		text += ", set up " + l.record.SetUp.String()
	}
	return text
}

// answer says whether a runaway is under way, how the front moves, and when the mulm reaches its limit;
// empty: none of that is known.
func (l *picture) answer() string {
	r := l.record
	parts := []string{words.Runaway(r.Watch), words.Frames(r.FrontShift, r.FloorShift, l.Units)}
	if r.LimitReached != nil {
		parts = append(parts, words.Forecast(*r.LimitReached, r.AsOf, l.Units))
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " ")
}

// key says how the cores are aligned and what lines and bands mean.
func (l *picture) key() string {
	if len(l.strips) > 0 {
		return l.stripKey()
	}
	if l.Align == AlignFloor {
		return "Colours as read, the lowest point seen is level. Lines: mulm top and colour oxic depth as read."
	}
	text := "Colours as read, bed surfaces level. Lines: mulm foot and colour oxic depth as read; bands: their trend, 90 %"
	if slices.ContainsFunc(l.record.Stations, func(s reports.StationLine) bool { return len(s.Mulm) > 1 || len(s.Front) > 1 }) {
		text += ", one course with a step at each removal"
	}
	return text + "."
}

// foot writes the notes from a place downward and ends the picture.
func (l *picture) foot(events, flags []eventFlag, y float64) {
	list := []string{l.key()}
	if n := len(l.record.Events) - eventsOf(events); n > 0 {
		list = append(list, "Not drawn: "+words.Count(n, "event")+" before "+l.time.from.String()+"; the report lists them.")
	}
	var bare []layers.EventKind
	wordless := 0
	for _, f := range flags {
		if !f.worded {
			bare = append(bare, f.Kind)
			wordless += 1 + len(f.more)
		}
	}
	switch wordless {
	case 0:
	case 1:
		list = append(list, "1 more event has no label; the report lists it.")
	default:
		list = append(list, fmt.Sprintf("%d more events have no label; the report lists them.", wordless))
	}
	l.Notes(y+footGap, list)
	if len(bare) > 0 {
		l.markKey(bare)
	}
}

const footGap = 2.5 // from the axis to the notes, mm (assumption)

func eventsOf(list []eventFlag) (n int) {
	for _, f := range list {
		if f.Kind != setUpAsMark {
			n++
		}
	}
	return n
}

// markKey names, below the notes, the shapes of marks without words.
func (l *picture) markKey(kinds []layers.EventKind) {
	const left, right = pen.Margin + markSize, pen.PaperWidth - pen.Margin
	x, y := left, l.Height-pen.Margin+pen.Ascent*pen.SmallSize
	for _, k := range layers.EventKinds() {
		if !slices.Contains(kinds, k) {
			continue
		}
		name := words.Spaced(k)
		width := 2*markSize + l.Length(name, pen.Small)
		if x+width > right {
			x, y = left, y+pen.Leading*pen.SmallSize
			l.Height += pen.Leading * pen.SmallSize
		}
		l.mark(k, pen.At(x, y-0.3*pen.SmallSize))
		l.Text(x+2*markSize, y, name, pen.Small)
		x += width + 4
	}
	l.Height += pen.Leading * pen.SmallSize
}

func (l *picture) description() string {
	parts := []string{l.span() + "."}
	for _, s := range l.record.Stations {
		parts = append(parts, l.stationWords(s))
	}
	if e := l.record.Accumulation; e != nil {
		parts = append(parts, "Accumulation of mulm "+words.Rate(l.Units).Estimate(*e)+".")
	}
	if answer := l.answer(); answer != "" {
		parts = append(parts, answer)
	}
	return strings.Join(parts, " ")
}

func (l *picture) stationWords(s reports.StationLine) string {
	m := words.Length(l.Units)
	first, last := s.Cores[0], s.Cores[len(s.Cores)-1]
	var parts []string
	add := func(name string, a, b *reports.Estimate) {
		switch {
		case b == nil:
		case a == nil || len(s.Cores) == 1:
			parts = append(parts, name+" "+m.Estimate(*b))
		default:
			parts = append(parts, name+" "+m.Value(*a)+" "+m.Unit+" at first and "+m.Estimate(*b)+" at last")
		}
	}
	add("mulm", first.Mulm, last.Mulm)
	add("colour oxic depth", first.OxicDepth, last.OxicDepth)
	if len(parts) == 0 {
		parts = append(parts, words.Count(len(s.Cores), "core"))
	}
	return cmp.Or(s.Station, "One station") + ": " + strings.Join(parts, ", ") + "."
}
