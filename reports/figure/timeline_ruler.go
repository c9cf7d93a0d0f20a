package figure

// rulerGap is from the numbers of a ruler to its line, mm.
const rulerGap = 1.9

// rulerSteps are those of all rows.
func (l *timeline) rulerSteps() (major, minor tick) { return ticksOf(l.Units, 4/l.scale, 0.9/l.scale) }

// rulerWidth is where the rulers stand: as far right as their longest number wants.
func (l *timeline) rulerWidth() float64 {
	major, _ := l.rulerSteps()
	width := l.length(l.Units.String(), small)
	for _, depth := range l.depths() {
		for mm := 0.0; mm <= depth; mm += major.mm {
			width = max(width, l.length(major.words(mm), small))
		}
	}
	return margin + width + rulerGap
}

// ruler draws a row's depths from the bed surface down, or its heights from the floor up.
func (l *timeline) ruler(r *stationRow) {
	hair := stroke{ink: inkSoft, width: 0.2}
	major, minor := l.rulerSteps()
	start, way := r.top, 1.0
	if l.Align == AlignFloor {
		start, way = r.foot, -1
	}
	length := r.foot - r.top
	l.text(l.left-rulerGap, r.top-headingClear, l.Units.String(), small.to(upToHere))
	ticks := [][]point{{{l.left, r.top}, {l.left, r.foot}}}
	for n := 0; ; n++ {
		mm := float64(n) * minor.mm
		if mm*l.scale > length+1e-9 {
			break
		}
		y, long := start+way*mm*l.scale, 0.7
		if n%major.count(minor) == 0 {
			long = 1.3
			l.text(l.left-rulerGap, y+0.36*smallSize, major.words(mm), small.to(upToHere))
		}
		ticks = append(ticks, []point{{l.left - long, y}, {l.left, y}})
	}
	l.lines(hair, ticks...)
}
