package figure

// gaps marks the stretches in which a station was not read.
func (l *timeline) gaps(r *stationRow) {
	hair := stroke{ink: inkHair, width: 0.15}
	for _, g := range r.Gaps {
		left, right := l.time.x(g.From)+l.time.column/2+0.7, l.time.x(g.Until)-l.time.column/2-0.7
		if right-left < 1 {
			continue
		}
		b := box{left, r.top, right, r.foot}
		l.lines(hair, b.slanted(2.2, -1)...)
		const text = "not read"
		if w := l.length(text, small) + 1.6; w <= right-left {
			x, y := (left+right)/2, (r.top+r.foot)/2
			l.rect(x-w/2, y-smallSize/2-0.7, w, smallSize+1.4, inkPaper)
			l.text(x, y+0.36*smallSize, text, small.to(centred))
		}
	}
}
