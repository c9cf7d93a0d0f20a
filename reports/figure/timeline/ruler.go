package timeline

import "panecore/reports/figure/pen"

// rulerGap is the distance from a ruler's numbers to its line, mm.
const rulerGap = 1.9

// rulerSteps are the same for all rows.
func (l *picture) rulerSteps() (major, minor pen.Tick) {
	return pen.TicksOf(l.Units, 4/l.scale, 0.9/l.scale)
}

// rulerWidth is the place of the rulers: the longest number fits to their left.
func (l *picture) rulerWidth() float64 {
	major, _ := l.rulerSteps()
	width := l.Length(l.Units.String(), pen.Small)
	for _, depth := range l.depths() {
		for mm := 0.0; mm <= depth; mm += major.MM {
			width = max(width, l.Length(major.Words(mm), pen.Small))
		}
	}
	return pen.Margin + width + rulerGap
}

// ruler draws a row's depths from the bed surface down, or its heights from the floor up.
func (l *picture) ruler(r *stationRow) {
	hair := pen.Stroke{Ink: pen.InkSoft, Width: 0.2}
	major, minor := l.rulerSteps()
	start, way := r.top, 1.0
	if l.Align == AlignFloor {
		start, way = r.foot, -1
	}
	length := r.foot - r.top
	l.Text(l.left-rulerGap, r.head-headingClear, l.Units.String(), pen.Small.To(pen.UpToHere))
	ticks := [][]pen.Point{{pen.At(l.left, r.top), pen.At(l.left, r.foot)}}
	for n := 0; ; n++ {
		mm := float64(n) * minor.MM
		if mm*l.scale > length+1e-9 {
			break
		}
		y, long := start+way*mm*l.scale, 0.7
		if n%major.Count(minor) == 0 {
			long = 1.3
			l.Text(l.left-rulerGap, y+0.36*pen.SmallSize, major.Words(mm), pen.Small.To(pen.UpToHere))
		}
		ticks = append(ticks, []pen.Point{pen.At(l.left-long, y), pen.At(l.left, y)})
	}
	l.Lines(hair, ticks...)
}
