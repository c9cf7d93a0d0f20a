package timeline

import (
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
)

// How far the picture follows the mulm ahead (assumptions).
const (
	overLimit  = 1.25 // times the limit: beyond it the course no longer matters
	farLimit   = 1.5  // times the bed: a deeper limit stands in words only
	aheadDash  = 1.1  // mm
	aheadBreak = 0.8  // mm
	limitWidth = 0.4  // mm
	limitDash  = 1.6  // mm
	limitBreak = 1.0  // mm
)

// depthAhead is how many mm of bed the first row shows for the mulm ahead, given the depth
// of its deepest core.
func (l *picture) depthAhead(deepest float64) float64 {
	f := l.record.LimitReached
	if f == nil || f.Earliest == nil {
		return 0
	}
	room := func(mm float64) float64 {
		if l.Align == AlignFloor {
			return l.newest().DepthMM() - l.mulmBelow(mm)
		}
		return mm
	}
	depth := 0.0
	for _, p := range l.course() {
		depth = max(depth, room(min(p.High, max(p.MM, overLimit*f.LimitMM))))
	}
	if limit := room(f.LimitMM); limit <= farLimit*max(deepest, depth) {
		depth = max(depth, limit)
	}
	return depth
}

// newest is the first station's newest core.
func (l *picture) newest() reports.Core {
	cores := l.record.Stations[0].Cores
	return cores[len(cores)-1]
}

// course is the tank's mulm ahead; nil where it may never reach its limit, which words say.
func (l *picture) course() []reports.TrendPoint {
	if f := l.record.LimitReached; f == nil || f.Earliest == nil {
		return nil
	}
	return l.record.Forecast
}

// courseInView is the mulm ahead up to the end of the time scale.
func (l *picture) courseInView() []reports.TrendPoint {
	var course []reports.TrendPoint
	for i, p := range l.course() {
		if p.Date <= l.time.end {
			course = append(course, p)
			continue
		}
		if i > 0 {
			course = append(course, between(l.course()[i-1], p, l.time.end))
		}
		break
	}
	return course
}

// between is the point on a day between two others, by a straight line.
func between(a, b reports.TrendPoint, d layers.Date) reports.TrendPoint {
	share := float64(d-a.Date) / float64(b.Date-a.Date)
	on := func(x, y float64) float64 { return x + share*(y-x) }
	return reports.TrendPoint{Date: d, MM: on(a.MM, b.MM), Low: on(a.Low, b.Low), High: on(a.High, b.High)}
}

// yAhead is the place of the tank's mulm in the first row or beyond it.
func (l *picture) yAhead(r *stationRow, mm float64) float64 {
	return r.y(l.mulmBelow(mm), l.newest().DepthMM())
}

// mulmBelow is where a thickness of mulm is shown, as a depth below the newest core's surface:
// the foot of that much mulm, or with the floors level its top, on what lies below that
// core's mulm.
func (l *picture) mulmBelow(mm float64) float64 {
	if l.Align != AlignFloor {
		return mm
	}
	if newest := l.newest(); newest.Mulm != nil {
		return newest.Mulm.Value - mm
	}
	return -mm
}

// limitInView reports whether the row is deep enough to show the limit.
func (l *picture) limitInView(r *stationRow) bool {
	f := l.record.LimitReached
	if f == nil || f.Earliest == nil {
		return false
	}
	y := l.yAhead(r, f.LimitMM)
	return y >= r.top-1e-9 && y <= r.foot+1e-9
}

// takenAhead are the stretches of the first row that the mulm ahead and its limit take.
func (l *picture) takenAhead(r *stationRow) (taken []stretch) {
	var places []pen.Point
	for _, p := range l.courseInView() {
		places = append(places, pen.At(0, r.within(l.yAhead(r, p.Low))), pen.At(0, r.within(l.yAhead(r, p.High))))
	}
	if len(places) > 2 { // a single point is not drawn
		ends := pen.Extremes(places)
		taken = append(taken, stretch{ends[0], ends[1]})
	}
	if l.limitInView(r) {
		y := l.yAhead(r, l.record.LimitReached.LimitMM)
		taken = append(taken, stretch{y, y})
	}
	return taken
}

// ahead draws the tank's mulm from the record's day to its limit.
func (l *picture) ahead(r *stationRow) {
	if course := l.courseInView(); len(course) > 1 {
		l.Group("the tank's mean mulm ahead", func() {
			l.band(course, pen.InkMulm, func(mm float64) float64 { return r.within(l.yAhead(r, mm)) },
				pen.Stroke{Ink: pen.InkMulm, Width: depthWidth, Dash: aheadDash, Gap: aheadBreak})
		})
	}
	if l.limitInView(r) {
		y := l.yAhead(r, l.record.LimitReached.LimitMM)
		from, to := pen.At(l.time.x(l.time.now), y), pen.At(pen.PaperWidth-pen.Margin, y)
		l.Line(pen.Stroke{Ink: pen.InkPaper, Width: limitWidth + 2*depthHalo}, from, to)
		l.Line(pen.Stroke{Ink: pen.InkLimit, Width: limitWidth, Dash: limitDash, Gap: limitBreak}, from, to)
	}
}
