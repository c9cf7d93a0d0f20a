package timeline

import (
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
)

// depthLine is one of the two depths that are followed over time.
type depthLine struct {
	name  string
	short string // for use beside a number
	ink   pen.Ink
	of    func(reports.Core) *reports.Estimate
	trend func(reports.StationLine) []reports.TrendLine
	top   bool // the line runs along the top of the mulm, not its foot
	ring  bool // its dots are rings, distinct from the other's in grey
}

// depthLines are the mulm's foot, or its top if the floors are level, and the colour oxic
// depth where it was reached.
func (l *picture) depthLines() [2]depthLine {
	mulm := depthLine{
		name: "mulm foot", short: "mulm foot", ink: pen.InkMulm,
		of:    mulmSeen,
		trend: func(s reports.StationLine) []reports.TrendLine { return s.Mulm },
	}
	if l.Align == AlignFloor {
		mulm.name, mulm.short, mulm.top = "mulm top", "mulm", true
		mulm.of = func(c reports.Core) *reports.Estimate { return c.Mulm }
	}
	return [2]depthLine{mulm, {
		name: "colour oxic depth", short: "colour oxic depth", ink: pen.InkOxic, of: oxicReached, ring: true,
		trend: func(s reports.StationLine) []reports.TrendLine { return s.Front },
	}}
}

// mulmSeen is a core's mulm; nil: the view ends above its foot.
func mulmSeen(c reports.Core) *reports.Estimate {
	if c.Mulm == nil || c.Mulm.AtLeast {
		return nil
	}
	return c.Mulm
}

// oxicReached is a core's colour oxic depth; nil: the view ends above it.
func oxicReached(c reports.Core) *reports.Estimate {
	if c.OxicDepth == nil || c.OxicDepth.Basis == reports.NotReached {
		return nil
	}
	return c.OxicDepth
}

// place is the point of a core's own depth; false: it has none.
func (d depthLine) place(r *stationRow, i int) (pen.Point, bool) {
	e := d.of(r.Cores[i])
	if e == nil {
		return pen.Point{}, false
	}
	return pen.At(r.slots[i].x, r.within(r.y(d.depth(*e), r.Cores[i].DepthMM()))), true
}

// depth is where the line runs, mm below the bed surface.
func (d depthLine) depth(e reports.Estimate) float64 {
	if d.top {
		return 0
	}
	return e.Value
}

// runs are a station's depths, broken at a removal, at a gap and at a core without a depth.
func (d depthLine) runs(r *stationRow, events []layers.Event) (runs [][]pen.Point) {
	var run []pen.Point
	for i, core := range r.Cores {
		if i > 0 && r.parted(r.Cores[i-1].Date, core.Date, events) && run != nil {
			runs, run = append(runs, run), nil
		}
		at, ok := d.place(r, i)
		switch {
		case ok:
			run = append(run, at)
		case run != nil:
			runs, run = append(runs, run), nil
		}
	}
	if run != nil {
		runs = append(runs, run)
	}
	return runs
}

// parted reports whether a gap or a removal lies between two readings. A removal on the day of
// a reading came after it.
func (r *stationRow) parted(before, after layers.Date, events []layers.Event) bool {
	for _, g := range r.Gaps {
		if g.From < after && g.Until > before {
			return true
		}
	}
	for _, e := range events {
		if e.Kind.Splits() && before <= e.Date && e.Date < after {
			return true
		}
	}
	return false
}

// How the lines are drawn (assumptions).
const (
	depthWidth  = 0.4  // mm
	depthHalo   = 0.25 // on either side, mm
	trendWidth  = 0.2  // mm
	bandGround  = 0.5  // opacity of the paper under a band
	bandShare   = 0.35 // opacity of the band
	dotRadius   = 0.52 // mm
	dotHollow   = 0.27 // radius of the paper within a ring, mm
	dottedPitch = 2.4  // mean distance of readings above which each has a dot, mm
	overStrips  = 0.6  // width of lines and dots over strips, as a share
)

func (l *picture) bands(r *stationRow) {
	if l.Align == AlignFloor {
		return // the floor is seen at another depth in each core, so a depth has no place of its own there
	}
	for _, d := range l.depthLines() {
		for _, line := range d.trend(r.StationLine) {
			if len(line.Points) < 2 {
				continue
			}
			l.Group("trend of the "+d.name+", "+r.Station, func() {
				l.band(line.Points, d.ink, func(mm float64) float64 { return r.within(r.y(mm, 0)) }, pen.Stroke{Ink: d.ink, Width: trendWidth})
			})
		}
	}
}

// readings joins the depths of a row, first all on paper, so that they stand out from dark and
// pale layers and none hides another.
func (l *picture) readings(r *stationRow) {
	var both [2]joined
	for i, d := range l.depthLines() {
		both[i] = join(d.runs(r, l.record.Events))
		l.joined(both[i], pen.InkPaper, depthHalo)
	}
	for i, d := range l.depthLines() {
		l.Group(d.name+", "+r.Station, func() {
			l.joined(both[i], d.ink, 0)
			if d.ring && len(both[i].dots) > 0 {
				l.Dots(pen.InkPaper, l.thinner()*dotHollow, both[i].dots...)
			}
		})
	}
}

// joined are lines between readings, and dots on those that are alone or have room.
type joined struct {
	lines [][]pen.Point
	dots  []pen.Point
}

func join(runs [][]pen.Point) (j joined) {
	for _, run := range runs {
		if len(run) > 1 {
			j.lines = append(j.lines, run)
		}
		if len(run) == 1 || run[len(run)-1].X-run[0].X >= dottedPitch*float64(len(run)-1) {
			j.dots = append(j.dots, run...)
		}
	}
	return j
}

func (l *picture) joined(j joined, ink pen.Ink, wider float64) {
	share := l.thinner()
	l.Lines(pen.Stroke{Ink: ink, Width: share * (depthWidth + 2*wider)}, j.lines...)
	if len(j.dots) > 0 {
		l.Dots(ink, share*(dotRadius+wider), j.dots...)
	}
}

// band draws a course and its range; y is the place of a depth.
func (l *picture) band(course []reports.TrendPoint, ink pen.Ink, y func(mm float64) float64, s pen.Stroke) {
	n := len(course)
	outline, middle := make([]pen.Point, 2*n), make([]pen.Point, n)
	for i, p := range course {
		x := l.time.x(p.Date)
		middle[i] = pen.At(x, y(p.MM))
		outline[i] = pen.At(x, y(p.Low))
		outline[2*n-1-i] = pen.At(x, y(p.High))
	}
	l.Area(pen.InkPaper.Faint(bandGround), outline...)
	l.Area(ink.Faint(bandShare), outline...)
	l.Line(s, middle...)
}
