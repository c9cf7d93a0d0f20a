package figure

import (
	"math"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// The layout of a rehearsal, mm (assumptions: fits on paper and is still readable on a phone).
const (
	rehearsalWidth  = 152.0 // the picture's width
	rehearsalNames  = 46.0  // width of the names on the left
	rehearsalLeft   = 54.0  // left end of the gauges
	rehearsalRight  = 104.0
	rehearsalWordsX = 108.5 // left end of the words on the right
	rehearsalHead   = 6.2   // height of a heading
	rehearsalGap    = 1.8   // between rows
)

// Rehearsal draws what a stir or a siphoning would do: the numbers that have a limit on one
// gauge, as multiples of their limits, the others in words, and the largest shares of the
// floor.
func Rehearsal(r reports.Rehearsal, u layers.Units) *pen.Figure {
	name := words.TankName(r.ID, r.Name) + ": " + deed(r.Method) + ", rehearsed"
	p := rehearsalPicture{Figure: pen.NewFigure(name, rehearsalWidth), r: r, units: u}
	p.ratio = gauge{rehearsalLeft, rehearsalRight, ofLimit}
	p.floor = gauge{rehearsalLeft, rehearsalRight, func(x float64) float64 { return x }}
	p.Desc = p.description()
	y := p.Heading(name, p.second(), words.RehearsalVerdict(r, u))
	y = p.limited(y)
	y = p.unlimited(y)
	y = p.shares(y)
	p.Notes(y+1.5, r.Notices)
	return p.Figure
}

type rehearsalPicture struct {
	*pen.Figure
	r     reports.Rehearsal
	units layers.Units
	ratio gauge // of numbers over their limits
	floor gauge // of shares of the floor
}

func deed(m reports.Method) string {
	if m == reports.MethodSiphon {
		return "a siphoning"
	}
	return "a " + string(m)
}

// decades is how far the gauge of ratios reaches on either side of the limit, powers of ten
// (assumption).
const decades = 2

// ofLimit is a ratio's share of its gauge, which is logarithmic with the limit in the middle.
func ofLimit(ratio float64) float64 { return 0.5 + math.Log10(max(0, ratio))/(2*decades) }

// ratioOf is an estimate over a limit. Zero over a limit of zero is zero.
func ratioOf(e reports.Estimate, limit float64) reports.Estimate {
	times := func(x float64) float64 {
		if x <= 0 {
			return 0
		}
		return x / limit
	}
	e.Value, e.Low, e.High = times(e.Value), times(e.Low), times(e.High)
	return e
}

// second says when the tank was read and what the numbers rest on.
func (p *rehearsalPicture) second() string {
	var list []*reports.Estimate
	for _, n := range p.r.Numbers {
		list = append(list, n.After)
	}
	return readWords(p.r.AsOf, list) + ". Dot: median; bar: 90 % range; arrowhead: beyond the gauge."
}

func (p *rehearsalPicture) numberWords(n reports.Rehearsed) string {
	text := n.Name + ": " + orNotKnown(n.After, words.Rehearsed(n))
	if n.Limit != nil {
		for _, line := range p.rightOf(n) {
			text += ", " + line.Text
		}
	}
	return text
}

func (p *rehearsalPicture) shareWords(l reports.LargestShare) string {
	return p.shareName(l) + ": " + words.AtMost(l.Share) + " as it is, " + words.AtMost(l.Aerated) + " with an air stone"
}

func (p *rehearsalPicture) description() string {
	parts := []string{words.RehearsalVerdict(p.r, p.units), "Afterwards:"}
	for _, n := range p.r.Numbers {
		parts = append(parts, p.numberWords(n)+";")
	}
	parts = append(parts, strings.ToLower(words.LargestShares)+":")
	for _, l := range p.r.Largest {
		parts = append(parts, p.shareWords(l)+";")
	}
	return strings.TrimSuffix(strings.Join(parts, " "), ";") + "."
}
