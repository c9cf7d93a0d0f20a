package timeline

import "panecore/reports/figure/pen"

// gaps hatches the periods in which a station was not read.
func (l *picture) gaps(r *stationRow) {
	hair := pen.Stroke{Ink: pen.InkHair, Width: 0.15}
	for _, g := range r.Gaps {
		left, right := l.time.x(g.From)+l.time.coreWidth/2+0.7, l.time.x(g.Until)-l.time.coreWidth/2-0.7
		if right-left < 1 {
			continue
		}
		b := pen.Box{Left: left, Top: r.top, Right: right, Foot: r.foot}
		l.Lines(hair, b.Slanted(2.2, -1)...)
		const text = "not read"
		if w := l.Length(text, pen.Small) + 1.6; w <= right-left {
			x, y := (left+right)/2, (r.top+r.foot)/2
			l.Rect(x-w/2, y-pen.SmallSize/2-0.7, w, pen.SmallSize+1.4, pen.InkPaper)
			l.Text(x, y+0.36*pen.SmallSize, text, pen.Small.To(pen.Centred))
		}
	}
}
