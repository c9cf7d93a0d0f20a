package figure

import (
	"slices"

	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

const (
	shareRow   = 5.0   // height of a largest share's row, mm
	askedAbove = 2.6   // height of the share asked for, above its row, mm
	ringRadius = 1.35  // mm
	ringWidth  = 0.45  // mm
	aeratedX   = 124.0 // place of the shares with an air stone, mm
)

// shares draws the largest shares of the floor, method by method and depth by depth.
func (p *rehearsalPicture) shares(y float64) float64 {
	if len(p.r.Largest) == 0 {
		return y
	}
	y += rehearsalHead
	p.Text(pen.Margin, y-1.2, words.LargestShares, pen.Usual.Strong())
	y += pen.Leading * pen.SmallSize
	p.shareHeads(y - 0.8)
	top := y
	list := slices.Clone(p.r.Largest)
	slices.SortStableFunc(list, func(a, b reports.LargestShare) int { return p.place(a.Method) - p.place(b.Method) })
	for _, l := range list {
		y += p.heightOfShare(l)
	}
	for _, share := range []float64{0, 0.25, 0.5, 0.75, 1} {
		x, _ := p.floor.at(share)
		p.Line(hair, pen.At(x, top), pen.At(x, y))
	}
	y = top
	for _, l := range list {
		y += p.heightOfShare(l)
		p.share(y-shareRow/2, l)
	}
	return y
}

// place is a method's first place in the list of largest shares.
func (p *rehearsalPicture) place(m reports.Method) int {
	return slices.IndexFunc(p.r.Largest, func(l reports.LargestShare) bool { return l.Method == m })
}

// shareHeads writes the gauge's numbers and what dot and ring mean.
func (p *rehearsalPicture) shareHeads(y float64) {
	for _, share := range []float64{0, 0.25, 0.5, 0.75, 1} {
		x, _ := p.floor.at(share)
		p.Text(x, y, words.Percent(share), pen.Small.To(pen.Centred))
	}
	middle := y - pen.Capitals/2*pen.SmallSize
	p.Dots(pen.InkWord, gaugeDot, pen.At(rehearsalWordsX+ringRadius, middle))
	p.Text(rehearsalWordsX+2*ringRadius+1, y, "as it is", pen.Small.InInk(pen.InkWord))
	p.ring(aeratedX+ringRadius, middle)
	p.Text(aeratedX+2*ringRadius+1, y, "with an air stone", pen.Small.InInk(pen.InkWord))
}

// isAsked reports whether a share is for the method and depth asked for.
func (p *rehearsalPicture) isAsked(l reports.LargestShare) bool {
	return l.Method == p.r.Method && l.DepthMM == p.r.DepthMM
}

func (p *rehearsalPicture) heightOfShare(l reports.LargestShare) float64 {
	if p.isAsked(l) {
		return shareRow + askedAbove
	}
	return shareRow
}

// share draws a largest share: a bar that ends in a dot, and a ring for the share with an air
// stone.
func (p *rehearsalPicture) share(y float64, l reports.LargestShare) {
	how := pen.Usual
	if p.isAsked(l) {
		how = pen.Usual.Strong()
	}
	p.Stack(pen.Margin, y, rehearsalNames, pen.Said{Text: p.shareName(l), How: how})
	plain, _ := p.floor.at(l.Share)
	aerated, _ := p.floor.at(l.Aerated)
	p.Group(p.shareWords(l), func() {
		p.Line(pen.Stroke{Ink: pen.InkHair, Width: 0.3}, pen.At(plain, y), pen.At(rehearsalRight, y))
		p.Rect(rehearsalLeft, y-gaugeBar/2, plain-rehearsalLeft, gaugeBar, pen.InkWord.Faint(gaugeBarTone))
		if to := aerated - ringRadius; to > plain {
			p.Line(pen.Stroke{Ink: pen.InkWord, Width: 0.3}, pen.At(plain, y), pen.At(to, y))
		}
		p.ring(aerated, y)
		p.Dots(pen.InkWord, gaugeDot*0.8, pen.At(plain, y))
	})
	p.Text(rehearsalWordsX+2*ringRadius+1, y+pen.Capitals/2*pen.UsualSize, words.AtMost(l.Share), how)
	p.Text(aeratedX+2*ringRadius+1, y+pen.Capitals/2*pen.UsualSize, words.AtMost(l.Aerated), how)
	if p.isAsked(l) {
		p.asked(y)
	}
}

func (p *rehearsalPicture) shareName(l reports.LargestShare) string {
	return string(l.Method) + ", down to " + words.Depth(p.units, l.DepthMM)
}

func (p *rehearsalPicture) asked(y float64) {
	x, _ := p.floor.at(p.r.Share)
	p.Line(pen.Stroke{Ink: pen.InkLimit, Width: 0.5}, pen.At(x, y-shareRow/2-0.2), pen.At(x, y+shareRow/2-0.4))
	text, how := "asked: "+words.Percent(p.r.Share), pen.Small.Strong().InInk(pen.InkLimit)
	left := min(max(x-p.Length(text, how)/2, rehearsalLeft), rehearsalRight-p.Length(text, how))
	p.Text(left, y-shareRow/2-pen.Descent*pen.SmallSize, text, how)
}

func (p *rehearsalPicture) ring(x, y float64) {
	p.Line(pen.Stroke{Ink: pen.InkWord, Width: ringWidth}, pen.Circle(pen.At(x, y), ringRadius, 32)...)
}
