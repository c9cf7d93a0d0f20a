package figure

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// The layout of two photos and their change, mm (assumptions).
const (
	changeRuler  = 12.0 // the ruler's place
	changeGap    = 4.0  // between the strips
	changeHeight = 100.0
	changeMost   = 1.5 // mm on paper per mm of bed
	changeName   = 5.0 // the height of a strip's name
	changeBar    = 44.0
	changeBarTop = 3.0 // the height of the bar of colours
)

// How a difference shows (assumptions: a trace of colour where it is just told, the full colour at changeFull).
const (
	changeFull  = 40.0 // CIEDE2000: about brown mulm beside black
	changeFaint = 0.3  // opacity of what is just told
	changeGrey  = 0.45 // how much of the photo's own lightness is left under it
)

// Change draws two photos of a station and, over the later one in grey, where and by how much the bed changed between
// them, all to one scale and level at the bed surface.
func Change(c reports.Change, u layers.Units) *pen.Figure {
	before, after := c.Strips[0], c.Strips[1]
	title := "What changed from " + before.Date.String() + " to " + after.Date.String()
	if after.Station != "" {
		title = after.Station + ": what changed from " + before.Date.String() + " to " + after.Date.String()
	}
	v := change{Figure: pen.NewFigure(title, pen.PaperWidth), of: c, Units: u}
	v.Desc = changeAnswer(c) + " " + changeDoubt(c)
	y := v.Heading(title, changeDoubt(c), changeAnswer(c)) + changeName
	above := max(before.AboveMM, after.AboveMM)
	depth := max(before.DepthMM, after.DepthMM)
	width := max(before.WidthMM, after.WidthMM)
	v.scale = min(changeMost, changeHeight/(above+depth), (v.Width-changeRuler-pen.Margin-2*changeGap)/(3*width))
	v.surface = y + above*v.scale
	v.ruler(depth)
	pitch := width*v.scale + changeGap
	for i, s := range c.Strips {
		v.strip(changeRuler+float64(i)*pitch, s.Date.String(), s, s.Picture)
	}
	v.strip(changeRuler+2*pitch, "change", after, v.tinted())
	v.bar(v.surface + depth*v.scale + 3)
	return v.Figure
}

type change struct {
	*pen.Figure
	layers.Units
	of      reports.Change
	scale   float64 // mm on paper per mm of bed
	surface float64 // the place of the bed surfaces, mm
}

// changeAnswer says how much of the bed changed.
func changeAnswer(c reports.Change) string {
	switch {
	case c.Least == 0:
		return "The two photos show no part of the bed in common."
	case c.Share == 0:
		return "No change stands out."
	case c.Share < 0.01:
		return "Less than 1 % of what both photos show of the bed has changed."
	}
	return fmt.Sprintf("%.0f %% of what both photos show of the bed has changed.", 100*c.Share)
}

// changeDoubt says what is left blank.
func changeDoubt(c reports.Change) string {
	text := fmt.Sprintf("Differences that light, tint, grain and the place of the layers may make by themselves are left blank, here those below about %.0f (CIEDE2000).", c.Least)
	if !c.Strips[0].Carded || !c.Strips[1].Carded {
		text += " Without a grey card in both photos that is a lot."
	}
	if ev := words.Number(math.Abs(c.LightEV), 2); ev != "0.00" {
		way := "darkened"
		if c.LightEV < 0 {
			way = "lightened"
		}
		text += " The later photo was " + way + " by " + ev + " stops to match; a change of the whole bed at once looks the same."
	}
	return text
}

func (v *change) y(mm float64) float64 { return v.surface + mm*v.scale }

func (v *change) ruler(depth float64) {
	hair := pen.Stroke{Ink: pen.InkSoft, Width: 0.2}
	major, _ := pen.TicksOf(v.Units, 6/v.scale, 0.9/v.scale)
	v.Text(changeRuler-3, v.surface-pen.UsualSize, v.Units.String(), pen.Small.To(pen.UpToHere))
	for mm := 0.0; mm <= depth; mm += major.MM {
		v.Text(changeRuler-3, v.y(mm)+0.36*pen.SmallSize, major.Words(mm), pen.Small.To(pen.UpToHere))
		v.Line(hair, pen.At(changeRuler-2, v.y(mm)), pen.At(changeRuler-0.6, v.y(mm)))
	}
}

// strip shows a picture of a strip, with its name above and a hair at the bed surface beside it.
func (v *change) strip(x float64, name string, s reports.Strip, picture image.Image) {
	top := v.y(-s.AboveMM)
	v.Text(x, top-1.2, name, pen.Usual.Strong())
	v.Group(name, func() {
		v.Raster(x, top, s.WidthMM*v.scale, v.y(s.DepthMM)-top, pen.Raster{Image: picture})
	})
	hair := pen.Stroke{Ink: pen.InkSoft, Width: 0.25}
	v.Line(hair, pen.At(x+s.WidthMM*v.scale, v.surface), pen.At(x+s.WidthMM*v.scale+1, v.surface))
}

// tinted is the later strip in pale grey, with the change over it.
func (v *change) tinted() image.Image {
	later := v.of.Strips[1]
	b := later.Picture.Bounds()
	perCell := v.of.CellMM * float64(b.Dx()) / later.WidthMM
	left := (float64(b.Dx()) - float64(v.of.Width)*perCell) / 2 // the change is of the middle that both photos show
	surface := later.AboveMM / v.of.CellMM * perCell
	img := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	for y := range b.Dy() {
		for x := range b.Dx() {
			grey := color.GrayModel.Convert(later.Picture.At(b.Min.X+x, b.Min.Y+y)).(color.Gray).Y
			pale := 255*(1-changeGrey) + changeGrey*float64(grey)
			column, row := int(math.Floor((float64(x)+0.5-left)/perCell)), int(math.Floor((float64(y)+0.5-surface)/perCell))
			img.SetRGBA(x, y, mixed(pale, v.opacity(v.at(row, column))))
		}
	}
	return img
}

// at is the difference in a cell, 0 where there is none.
func (v *change) at(row, column int) float64 {
	cells := v.of.Width
	if row < 0 || column < 0 || column >= cells || row*cells+column >= len(v.of.Difference) || math.IsNaN(v.of.Difference[row*cells+column]) {
		return 0
	}
	return v.of.Difference[row*cells+column]
}

// full is the difference that shows in full colour.
func (v *change) full() float64 { return max(changeFull, v.of.Least+10) }

// opacity is how strongly a difference shows.
func (v *change) opacity(d float64) float64 {
	if d == 0 {
		return 0
	}
	return changeFaint + (1-changeFaint)*min(1, max(0, (d-v.of.Least)/(v.full()-v.of.Least)))
}

// mixed is the ink of a limit over a grey.
func mixed(grey, opacity float64) color.RGBA {
	c := pen.InkLimit.Color
	over := func(ink uint8) uint8 { return uint8(math.Round(grey + opacity*(float64(ink)-grey))) }
	return color.RGBA{over(c.R), over(c.G), over(c.B), 255}
}

// bar is the scale of the colours, from a place downward. It ends the figure.
func (v *change) bar(y float64) {
	const steps = 22
	for i := range steps {
		d := v.of.Least + (v.full()-v.of.Least)*(float64(i)+0.5)/steps
		c := mixed(255, v.opacity(d))
		ink := pen.AsRead(pen.InkLimit.Color)
		ink.Color.R, ink.Color.G, ink.Color.B = c.R, c.G, c.B
		v.Rect(changeRuler+changeBar*float64(i)/steps, y, changeBar/steps+0.02, changeBarTop, ink)
	}
	base := y + changeBarTop + 0.5 + pen.Ascent*pen.SmallSize
	v.Text(changeRuler, base, fmt.Sprintf("%.0f", v.of.Least), pen.Small)
	v.Text(changeRuler+changeBar, base, fmt.Sprintf("%.0f and more", v.full()), pen.Small.To(pen.Centred))
	v.Text(changeRuler+changeBar+14, base, "difference in colour, CIEDE2000; grey: no change told", pen.Small)
	v.Height = base + pen.Descent*pen.SmallSize + pen.Margin
}
