package figure

import (
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// steps are the places of the gauge's numbers, from 0.
func (o *oxygenPicture) steps() (places []float64) {
	by, _ := pen.Step(o.most, 6)
	for n := 0; ; n++ {
		x, beyond := o.gauge.at(float64(n) * by)
		if beyond != 0 {
			return places
		}
		places = append(places, x)
	}
}

// axis writes the gauge's numbers below the bed and returns where they end.
func (o *oxygenPicture) axis() float64 {
	by, decimals := pen.Step(o.most, 6)
	y := o.foot + pen.Leading*pen.SmallSize
	for n, x := range o.steps() {
		o.Text(x, y, words.Number(float64(n)*by, decimals), pen.Small.To(pen.Centred))
	}
	o.Text(oxygenLeft-3, y, "oxygen, mg/L", pen.Small.To(pen.UpToHere))
	return y + pen.Descent*pen.SmallSize
}

// rows draws the numbers below the profile on its gauge and returns where they end.
func (o *oxygenPicture) rows(y float64) float64 {
	day := []oxygenNumber{
		{"least, at " + words.Clock(o.x.Dawn.Hour), o.x.Dawn.Oxygen, ""},
		{"most, at " + words.Clock(o.x.Dusk.Hour), o.x.Dusk.Oxygen, ""},
	}
	if least, most := o.x.Dawn.Oxygen, o.x.Dusk.Oxygen; least != nil && most != nil && *least == *most {
		day = []oxygenNumber{{"all day", least, ""}}
	}
	y = o.section(y, "Over a day", oxygenLine, day)
	var helps []oxygenNumber
	for _, h := range o.x.Helps {
		helps = append(helps, oxygenNumber{"with " + h.Name, h.Bottom, gained(h.Gain)})
	}
	if len(helps) > 0 {
		y = o.section(y, "What would help at the bottom, in the dark", oxygenLines, helps)
	}
	return y
}

func gained(e *reports.Estimate) string {
	if e == nil {
		return "gain not known"
	}
	return words.Oxygen().Value(*e) + " more (" + words.Oxygen().Bounds(*e) + ")"
}

// oxygenNumber is a named oxygen, and the gain in words.
type oxygenNumber struct {
	name   string
	oxygen *reports.Estimate // nil: not known
	gain   string            // empty: none to show
}

// section draws numbers of a height under a heading and returns where they end.
func (o *oxygenPicture) section(y float64, heading string, high float64, numbers []oxygenNumber) float64 {
	top := y + oxygenHeading
	o.Text(pen.Margin, top-1.4, heading, pen.Usual.Strong())
	foot := top + float64(len(numbers))*high
	for _, x := range o.steps() {
		o.Line(hair, pen.At(x, top), pen.At(x, foot))
	}
	if limit, beyond := o.gauge.at(o.x.Limit); beyond == 0 {
		o.limitLine(limit, top, foot)
	}
	for i, n := range numbers {
		o.row(top+(float64(i)+0.5)*high, n)
	}
	return foot
}

// row draws a number around a middle.
func (o *oxygenPicture) row(y float64, n oxygenNumber) {
	const width = oxygenLeft - 2 - pen.Margin
	o.Stack(pen.Margin, y, width, o.First(2, n.name, width, pen.Usual)...)
	about := orNotKnown(n.oxygen, words.Oxygen())
	lines := []pen.Said{{Text: about, How: pen.Small.InInk(pen.InkWord)}}
	if n.gain != "" {
		lines = append(lines, pen.Said{Text: n.gain, How: pen.Small.InInk(pen.InkOxic).Strong()})
		about += ", " + n.gain
	}
	o.Stack(oxygenWordsX, y, oxygenWidth-pen.Margin-oxygenWordsX, lines...)
	if n.oxygen != nil {
		o.Group(n.name+": "+about, func() { o.gauge.dotAndBar(o.Figure, y, *n.oxygen, pen.InkOxic) })
	}
}
