package timeline

import (
	"fmt"
	"strconv"
	"time"

	"panecore/layers"
	"panecore/reports/figure/pen"
)

// The layout of the time axis, mm (assumptions).
const (
	axisGap    = 1.6  // from the rows to the axis
	axisTick   = 0.9  // a tick's length
	axisWords  = 1.2  // from the axis to the words
	axisLine   = 3.6  // from one line of words to the next
	daysRoom   = 30.0 // the least width of a month with numbered days
	namesRoom  = 6.2  // of one with its name
	letterRoom = 2.6  // of one with its first letter
	tickRoom   = 1.1  // of one with a tick
)

func dayOf(year int, month time.Month, day int) layers.Date {
	return layers.DateOf(time.Date(year, month, day, 0, 0, 0, 0, time.UTC))
}

func yearOf(d layers.Date) int {
	year, _ := strconv.Atoi(d.String()[:len("2006")]) // a date begins with its year
	return year
}

// years draws a hair at the beginning of each year through all rows.
func (l *picture) years(foot float64) {
	var hairs [][]pen.Point
	for year := yearOf(l.time.from) + 1; year <= yearOf(l.time.end); year++ {
		x := l.time.x(dayOf(year, time.January, 1))
		for _, r := range l.rows {
			hairs = append(hairs, []pen.Point{pen.At(x, r.top), pen.At(x, r.foot)})
		}
		hairs = append(hairs, []pen.Point{pen.At(x, l.rows[len(l.rows)-1].foot), pen.At(x, foot+axisGap)})
	}
	l.Lines(pen.Stroke{Ink: pen.InkHair, Width: 0.25}, hairs...)
}

// axis draws the time axis below the rows and returns where it ends.
func (l *picture) axis(foot float64) float64 {
	y := foot + axisGap
	l.Line(axisHair, pen.At(l.time.x(l.time.from), y), pen.At(l.time.x(l.time.end), y))
	base := y + axisWords + pen.Ascent*pen.SmallSize
	width := l.time.perDay * layers.DaysPerMonth
	switch {
	case width >= daysRoom:
		l.tenths(y, base)
		base += axisLine
		l.monthsOfYears(base)
		return base + pen.Descent*pen.SmallSize
	case width >= tickRoom:
		l.monthTicks(y)
	}
	if width >= letterRoom {
		l.monthNames(base, width >= namesRoom)
		base += axisLine
	}
	l.yearNames(y, base)
	return base + pen.Descent*pen.SmallSize
}

var axisHair = pen.Stroke{Ink: pen.InkSoft, Width: 0.2}

// months calls see for each month on the axis, with its first day and the next month's.
func (l *picture) months(see func(year int, month time.Month, from, next layers.Date)) {
	for year := yearOf(l.time.from); year <= yearOf(l.time.end); year++ {
		for month := time.January; month <= time.December; month++ {
			from, next := dayOf(year, month, 1), dayOf(year, month+1, 1)
			if next > l.time.from && from <= l.time.end {
				see(year, month, from, next)
			}
		}
	}
}

func (l *picture) monthTicks(y float64) {
	var ticks [][]pen.Point
	l.months(func(_ int, _ time.Month, from, _ layers.Date) {
		if from >= l.time.from {
			x := l.time.x(from)
			ticks = append(ticks, []pen.Point{pen.At(x, y), pen.At(x, y+axisTick)})
		}
	})
	l.Lines(axisHair, ticks...)
}

// monthNames writes each month, or its first letter, in the middle of its visible part.
func (l *picture) monthNames(base float64, whole bool) {
	l.months(func(_ int, month time.Month, from, next layers.Date) {
		name := month.String()[:1]
		if whole {
			name = month.String()[:3]
		}
		left, right := l.time.x(max(from, l.time.from)), l.time.x(min(next, l.time.end))
		if right-left >= l.Length(name, pen.Small) {
			l.Text((left+right)/2, base, name, pen.Small.To(pen.Centred))
		}
	})
}

// tenths numbers the 1st, 11th and 21st of each month.
func (l *picture) tenths(y, base float64) {
	var ticks [][]pen.Point
	l.months(func(year int, month time.Month, _, _ layers.Date) {
		for _, day := range [...]int{1, 11, 21} {
			d := dayOf(year, month, day)
			if d < l.time.from || d > l.time.end {
				continue
			}
			x := l.time.x(d)
			ticks = append(ticks, []pen.Point{pen.At(x, y), pen.At(x, y+axisTick)})
			l.Text(x, base, strconv.Itoa(day), pen.Small.To(pen.Centred))
		}
	})
	l.Lines(axisHair, ticks...)
}

// monthsOfYears writes each month with its year where it begins.
func (l *picture) monthsOfYears(base float64) {
	var marks []axisMark
	l.months(func(year int, month time.Month, from, _ layers.Date) {
		marks = append(marks, axisMark{from, fmt.Sprintf("%s %d", month.String()[:3], year)})
	})
	l.marked(marks, base-pen.Ascent*pen.SmallSize, base)
}

// yearNames writes each year where it begins, or only some if there are too many.
func (l *picture) yearNames(y, base float64) {
	room := l.Length("2000", axisBold) + axisApart
	step := 1
	for _, step = range [...]int{1, 2, 5, 10, 20, 50} {
		if float64(step)*365*l.time.perDay >= room {
			break
		}
	}
	first := yearOf(l.time.from)
	marks := []axisMark{{dayOf(first, time.January, 1), strconv.Itoa(first)}}
	for year := first + 1; year <= yearOf(l.time.end); year++ {
		if year%step == 0 {
			marks = append(marks, axisMark{dayOf(year, time.January, 1), strconv.Itoa(year)})
		}
	}
	l.marked(marks, y, base)
}

// axisMark is a word on the axis and the day on which it begins.
type axisMark struct {
	day  layers.Date
	text string
}

const axisApart = 1.5 // between two words, mm

var axisBold = pen.Small.Strong().InInk(pen.InkWord)

// marked writes marks where they begin, the first at the beginning of the axis. The first is
// left out where the next is too close, the last where the picture ends too soon.
func (l *picture) marked(marks []axisMark, y, base float64) {
	for i, m := range marks {
		x, room := l.time.x(max(m.day, l.time.from)), pen.PaperWidth-pen.Margin
		if m.day > l.time.from {
			l.Line(axisHair, pen.At(x, y), pen.At(x, base))
		}
		if i == 0 && len(marks) > 1 {
			room = l.time.x(marks[1].day) - axisApart
		}
		if x += 0.7; x+l.Length(m.text, axisBold) <= room {
			l.Text(x, base, m.text, axisBold)
		}
	}
}
