package timeline

import (
	"slices"

	"panecore/layers"
	"panecore/reports/figure/pen"
)

// The layout of the time scale, mm (assumptions).
const (
	endWordsWidth = 27.0    // the words beside the newest cores
	mostPerDay    = 5.0     // the scale of the shortest records
	mostAhead     = 1.0 / 3 // the forecast's share of the width, at most
	leastDays     = 1.0     // days: a record of a single day has no length
	timeEdge      = 0.8     // between the ruler and the first core
	beforePart    = 8       // up to one part in so many of the record is drawn before its first core
)

// timeScale places days from left to right.
type timeScale struct {
	from      layers.Date // the first day
	now       layers.Date // the record's day
	end       layers.Date // the last day of the forecast
	origin    float64     // the place of the first day, mm
	perDay    float64     // mm
	coreWidth float64     // the width of a core with enough room, mm
}

func (s timeScale) x(d layers.Date) float64 { return s.origin + float64(d-s.from)*s.perDay }

// timeScale fits the record and its forecast into the width.
func (l *picture) timeScale() timeScale {
	s := timeScale{from: l.firstDay(), now: l.lastDay()}
	s.end = s.now
	if course := l.course(); len(course) > 1 {
		s.end = max(s.now, course[len(course)-1].Date)
	}
	const right = pen.PaperWidth - pen.Margin
	past, ahead := max(leastDays, float64(s.now-s.from)), float64(s.end-s.now)
	fit := func(room float64) {
		s.perDay = min(mostPerDay, (room-endWordsWidth)/past)
		if s.perDay*ahead > endWordsWidth {
			s.perDay = min(mostPerDay, room/(past+ahead))
		}
		if s.now > s.from && s.perDay*ahead > room*mostAhead {
			s.perDay = min(mostPerDay, room*(1-mostAhead)/past)
			s.end = s.now + layers.Date(room*mostAhead/s.perDay)
		}
	}
	width := coreWidths
	if len(l.strips) > 0 {
		width = stripWidths
		width.most = min(width.most, l.widestStrip()*l.scale)
	}
	fit(right - l.left - width.most)
	s.coreWidth = width.at(l.intervals(), s.perDay)
	// Days before the first core make room for its left half.
	s.origin = l.left + timeEdge + max(0, s.coreWidth/2-float64(l.firstCore()-s.from)*s.perDay)
	fit(right - s.origin - s.coreWidth/2)
	return s
}

// firstDay is the day of the first core, or of the set-up or an earlier event that is not so
// long before it as to squeeze the cores.
func (l *picture) firstDay() layers.Date {
	first := l.firstCore()
	reach := first - (l.lastDay()-first)/beforePart
	if set := l.record.SetUp; set != 0 && set < first && (set >= reach || first == l.lastDay()) {
		reach = min(reach, set)
		first = set
	}
	for _, e := range l.record.Events {
		if e.Date >= reach {
			first = min(first, e.Date)
		}
	}
	return first
}

func (l *picture) firstCore() layers.Date {
	first := l.record.Stations[0].Cores[0].Date
	for _, s := range l.record.Stations {
		first = min(first, s.Cores[0].Date)
	}
	return first
}

func (l *picture) lastCore() (last layers.Date) {
	for _, s := range l.record.Stations {
		last = max(last, s.Cores[len(s.Cores)-1].Date)
	}
	return last
}

// lastDay is the day for which the record is shown.
func (l *picture) lastDay() layers.Date { return max(l.record.AsOf, l.lastCore()) }

// intervals are the days between one reading of a station and its next.
func (l *picture) intervals() (days []layers.Date) {
	for _, s := range l.record.Stations {
		for i := range s.Cores[1:] {
			if d := s.Cores[i+1].Date - s.Cores[i].Date; d > 0 {
				days = append(days, d)
			}
		}
	}
	slices.Sort(days)
	return days
}
