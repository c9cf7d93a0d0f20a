package figure

import (
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// groupGap is between groups of numbers, mm.
const groupGap = 0.8

// limited draws the numbers that have a limit: first those that must stay below it, then
// those that must stay above.
func (p *rehearsalPicture) limited(y float64) float64 {
	most, least := p.withLimit(false), p.withLimit(true)
	if len(most)+len(least) == 0 {
		return y
	}
	y += rehearsalHead
	p.ratios(y)
	limit := p.limitX()
	line := pen.Stroke{Ink: pen.InkLimit, Width: 0.45, Dash: 1.6, Gap: 1}
	top := y
	// The dots come last: the limit's line lies over the shades and under the dots.
	var rows []func()
	for _, group := range []rehearsalGroup{
		{most, rehearsalLeft, "within: below", "too much"},
		{least, limit, "too little", "within: above"},
	} {
		if len(group.numbers) > 0 {
			y = p.numbers(y, group, &rows)
		}
	}
	p.Line(line, pen.At(limit, top), pen.At(limit, y-groupGap))
	for _, row := range rows {
		row()
	}
	return y
}

// rehearsalGroup are numbers that must stay on the same side of their limits.
type rehearsalGroup struct {
	numbers     []reports.Rehearsed
	within      float64 // left end of that side's shade, mm
	left, right string  // what each side means
}

func (p *rehearsalPicture) limitX() float64 {
	x, _ := p.ratio.at(1)
	return x
}

// withLimit are the numbers with a limit that they must stay above (below is true: none may
// fall below it) or below.
func (p *rehearsalPicture) withLimit(below bool) (list []reports.Rehearsed) {
	for _, n := range p.r.Numbers {
		if n.Limit != nil && n.Below == below {
			list = append(list, n)
		}
	}
	return list
}

// ratios writes the gauge's numbers above a place.
func (p *rehearsalPicture) ratios(y float64) {
	p.Text(pen.Margin, y-1.2, "Afterwards, against the limits", pen.Usual.Strong())
	for _, t := range []struct {
		ratio float64
		text  string
		how   pen.Lettering
	}{
		{0.01, "1/100", pen.Small}, {0.1, "1/10", pen.Small}, {1, "limit", pen.Small.Strong().InInk(pen.InkLimit)}, {10, "10 times", pen.Small}, {100, "100 times", pen.Small},
	} {
		x, _ := p.ratio.at(t.ratio)
		p.Text(x, y-1.2, t.text, t.how.To(pen.Centred))
	}
}

// numbers draws a group's shade and words and adds its dots and bars to rows. It returns
// where the group ends.
func (p *rehearsalPicture) numbers(y float64, g rehearsalGroup, rows *[]func()) float64 {
	const side = 4.2 // height of the words on the sides, mm
	limit := p.limitX()
	foot := y + side
	for _, n := range g.numbers {
		foot += p.heightOf(n)
	}
	p.Rect(g.within, y, limit-rehearsalLeft, foot-y, pen.InkWater)
	for _, ratio := range []float64{0.01, 0.1, 10, 100} {
		x, _ := p.ratio.at(ratio)
		p.Line(hair, pen.At(x, y), pen.At(x, foot))
	}
	for _, s := range []struct {
		x      float64
		text   string
		within bool
	}{{(rehearsalLeft + limit) / 2, g.left, g.within < limit}, {(limit + rehearsalRight) / 2, g.right, g.within == limit}} {
		how := pen.Small.To(pen.Centred).InInk(pen.InkLimit)
		if s.within {
			how = pen.Small.To(pen.Centred).Strong().InInk(pen.InkWord)
		}
		p.Text(s.x, y+side/2+pen.Capitals/2*pen.SmallSize+0.3, s.text, how)
	}
	y += side
	for _, n := range g.numbers {
		high := p.heightOf(n)
		middle := y + high/2
		p.Stack(pen.Margin, middle, rehearsalNames, p.leftOf(n)...)
		p.Stack(rehearsalWordsX, middle, rehearsalWidth-pen.Margin-rehearsalWordsX, p.rightOf(n)...)
		if n.After != nil {
			*rows = append(*rows, func() {
				p.Group(p.numberWords(n), func() { p.ratio.dotAndBar(p.Figure, middle, ratioOf(*n.After, *n.Limit), inkOf(n)) })
			})
		}
		y += high
	}
	return foot + groupGap
}

// heightOf is the height of a number's row, mm.
func (p *rehearsalPicture) heightOf(n reports.Rehearsed) float64 {
	return max(pen.HeightOf(p.leftOf(n)), pen.HeightOf(p.rightOf(n))) + rehearsalGap
}

func (p *rehearsalPicture) leftOf(n reports.Rehearsed) []pen.Said {
	return append(p.First(2, n.Name, rehearsalNames, pen.Usual), pen.Said{Text: orNotKnown(n.After, words.Rehearsed(n)), How: pen.Small})
}

// rightOf are how often a number's limit is kept, and the limit.
func (p *rehearsalPicture) rightOf(n reports.Rehearsed) []pen.Said {
	kind := "at most "
	if n.Below {
		kind = "at least "
	}
	kept := "not known, so not judged"
	if n.Within != nil {
		kept = "kept in " + words.Draws(*n.Within)
	}
	return []pen.Said{{Text: kept, How: pen.Small.Strong().InInk(pen.InkWord)}, {Text: "limit: " + kind + words.Rehearsed(n).Plain(*n.Limit) + " " + n.Unit, How: pen.Small.InInk(pen.InkLimit)}}
}

// inkOf is teal for oxygen.
func inkOf(n reports.Rehearsed) pen.Ink {
	if n.Unit == words.Oxygen().Unit {
		return pen.InkOxic
	}
	return pen.InkWord
}

func (p *rehearsalPicture) unlimited(y float64) float64 {
	open := false
	for _, n := range p.r.Numbers {
		if n.Limit != nil {
			continue
		}
		if !open {
			y += rehearsalHead
			p.Text(pen.Margin, y-1.2, "Without a limit here", pen.Usual.Strong())
			open = true
		}
		y += pen.Leading * pen.SmallSize
		value := p.Fit(orNotKnown(n.After, words.Rehearsed(n)), rehearsalWidth-pen.Margin-rehearsalLeft, pen.Small)
		p.Text(pen.Margin, y-pen.Descent*pen.SmallSize, p.Fit(n.Name, rehearsalNames, pen.Small.InInk(pen.InkWord)), pen.Small.InInk(pen.InkWord))
		p.Text(rehearsalLeft, y-pen.Descent*pen.SmallSize, value, pen.Small)
	}
	return y + 0.8
}
