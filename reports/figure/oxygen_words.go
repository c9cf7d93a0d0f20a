package figure

import (
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

func (o *oxygenPicture) depth(e reports.Estimate) string { return words.Length(o.units).Estimate(e) }

// readWords say when a tank was read and what the first known estimate rests on.
func readWords(asOf layers.Date, list []*reports.Estimate) string {
	text := "Read " + asOf.String()
	for _, e := range list {
		if e != nil {
			if basis := words.Basis(*e); basis != "" {
				text += ", " + basis
			}
			break
		}
	}
	return text
}

func (o *oxygenPicture) point(p reports.OxygenPoint) string {
	return p.Where + ", " + words.Depth(o.units, p.DepthMM) + " down: " + orNotKnown(p.Oxygen, words.Oxygen())
}

func orNotKnown(e *reports.Estimate, m words.Measure) string {
	if e == nil {
		return "not known"
	}
	return m.Estimate(*e)
}

// oxygenLabelled is a label beside the profile and the place that it belongs to.
type oxygenLabelled struct {
	from pen.Point
	head string
	sub  string
	ink  pen.Ink
}

// labels names the profile's marks beside it. No label overlaps another.
func (o *oxygenPicture) labels() {
	list := o.labelled()
	wanted := make([]float64, len(list))
	for i, l := range list {
		wanted[i] = l.from.Y
	}
	const half = oxygenLabel / 2
	for i, y := range pen.Apart(wanted, oxygenLabel, o.top+half, o.lowestLabel(len(list))) {
		l := list[i]
		o.Line(pen.Stroke{Ink: l.ink.Faint(0.7), Width: 0.2}, l.from, pen.At(oxygenRight, l.from.Y), pen.At(oxygenWordsX-2, y), pen.At(oxygenWordsX-0.8, y))
		o.Stack(oxygenWordsX, y, oxygenWidth-pen.Margin-oxygenWordsX, pen.Said{Text: l.head, How: pen.Small.Strong().InInk(l.ink)}, pen.Said{Text: l.sub, How: pen.Small})
	}
}

// lowestLabel is the lowest place for the last of count labels.
func (o *oxygenPicture) lowestLabel(count int) float64 {
	return max(o.foot-oxygenLabel/2, o.top+(float64(count)-0.5)*oxygenLabel)
}

// labelled lists the labels from the top down.
func (o *oxygenPicture) labelled() (list []oxygenLabelled) {
	add := func(x, y float64, head, sub string, ink pen.Ink) {
		list = append(list, oxygenLabelled{pen.At(x, y), head, sub, ink})
	}
	saturation, _ := o.gauge.at(o.x.Saturation)
	add(saturation, o.top+1.2, "in balance with air", words.Oxygen().Plain(o.x.Saturation)+" mg/L, at "+words.Number(o.x.TemperatureC, 1)+" °C", pen.InkSoft)
	if e := o.oxicWater(); e != nil {
		add(oxygenWaterBracketX, o.inWater(e.Value), "oxygen ends at", o.depth(*e), pen.InkOxic)
	}
	if o.x.OxicWater == nil {
		add(oxygenRight, (o.top+o.joint)/2, "water with oxygen", "not known", pen.InkOxic)
	}
	add(oxygenRight, o.joint-0.6, "bottom of the water", orNotKnown(o.x.Bottom(), words.Oxygen()), pen.InkOxic)
	if len(o.bed) == 0 {
		return list
	}
	add(oxygenRight, o.joint+0.6, "surface of the bed", orNotKnown(o.bedSurface(), words.Oxygen()), pen.InkOxic)
	if e := o.x.Penetration; e != nil {
		add(oxygenBracketX, o.inBed(e.Value), "oxygen ends at", o.depth(*e), pen.InkOxic)
	} else {
		add(oxygenRight, (o.joint+o.foot)/2, "where oxygen ends", "not known", pen.InkOxic)
	}
	return list
}

func (o *oxygenPicture) remarks() []string {
	if above, below := o.x.Bottom(), o.bedSurface(); above == nil || below == nil || above.Value == below.Value {
		return o.x.Notices
	}
	return append([]string{"Dotted step: what the film of still water on the bed holds back; it is thinner than a line here."}, o.x.Notices...)
}

func (o *oxygenPicture) description() string {
	oxygen := words.Oxygen()
	parts := []string{
		words.OxygenVerdict(o.x),
		words.Saturation(o.x),
		"From the water's surface down:",
	}
	for _, p := range o.x.Points {
		parts = append(parts, o.point(p)+";")
	}
	length := words.Length(o.units)
	parts = append(parts,
		"oxygen ends in the bed at: "+orNotKnown(o.x.Penetration, length)+".",
		"Water that holds oxygen: "+orNotKnown(o.x.OxicWater, length)+".",
		"Least of the day, at "+words.Clock(o.x.Dawn.Hour)+": "+orNotKnown(o.x.Dawn.Oxygen, oxygen)+".",
		"Most of the day, at "+words.Clock(o.x.Dusk.Hour)+": "+orNotKnown(o.x.Dusk.Oxygen, oxygen)+".")
	for _, h := range o.x.Helps {
		parts = append(parts, "At the bottom with "+h.Name+": "+orNotKnown(h.Bottom, oxygen)+", gain "+orNotKnown(h.Gain, oxygen)+".")
	}
	return strings.Join(parts, " ")
}
