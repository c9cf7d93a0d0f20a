package figure

import (
	"cmp"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// The layout of cores side by side, mm (assumptions: readable on a phone of 390 pixels and in
// half of a wide screen).
const (
	besideRuler  = 9.0  // the ruler's place
	besideLeft   = 12.0 // the first core's left side
	besideWidth  = 13.0 // a core's width
	besideLabels = 29.0 // the width of its labels
	besideApart  = 2.0
	besidePitch  = 6.6  // from one label to the next: two lines
	besideHeight = 92.0 // the deepest bed's height
	besideLeast  = 60.0 // mm of bed that always have room, so that the scale stays while layers are typed
)

// Named is a core and a few words that say which it is.
type Named struct {
	Name string
	Core reports.Core
}

// Beside draws cores side by side to one scale, their bed surfaces level, with labels beside
// each layer: a reading and the one before it.
func Beside(title string, cores []Named, u layers.Units) *pen.Figure {
	b := beside{Units: u, Figure: pen.NewFigure(title, besideLeft+float64(max(1, len(cores)))*(besideWidth+besideLabels+besideApart))}
	depth, most := besideLeast, 0
	for _, c := range cores {
		depth, most = max(depth, c.Core.DepthMM()), max(most, len(c.Core.Layers))
	}
	b.scale = besideHeight / depth
	b.surface = pen.UsualSize + pen.SmallSize + 4
	b.lowest = b.surface + max(besideHeight, float64(most)*besidePitch)
	b.ruler(depth)
	var described []string
	for i, c := range cores {
		b.core(c, besideLeft+float64(i)*(besideWidth+besideLabels+besideApart))
		described = append(described, c.Name+": "+besideWords(c.Core, u))
	}
	b.Height = b.lowest + pen.SmallSize
	b.Desc = cmp.Or(strings.Join(described, " "), "No core.")
	return b.Figure
}

type beside struct {
	*pen.Figure
	layers.Units
	scale   float64 // mm on paper per mm of bed
	surface float64 // the place of the bed surfaces, mm
	lowest  float64 // the end of cores and labels, mm
}

func (b *beside) y(mm float64) float64 { return b.surface + mm*b.scale }

func (b *beside) ruler(depth float64) {
	hair := pen.Stroke{Ink: pen.InkSoft, Width: 0.2}
	major, _ := pen.TicksOf(b.Units, 8/b.scale, 0.9/b.scale)
	b.Text(besideRuler, b.surface-pen.UsualSize, b.Units.String(), pen.Small.To(pen.UpToHere))
	for mm := 0.0; mm <= depth; mm += major.MM {
		b.Text(besideRuler, b.y(mm)+0.36*pen.SmallSize, major.Words(mm), pen.Small.To(pen.UpToHere))
		b.Line(hair, pen.At(besideRuler+0.8, b.y(mm)), pen.At(besideLeft-0.4, b.y(mm)))
	}
}

func (b *beside) core(c Named, x float64) {
	b.Text(x, 0.5+pen.Ascent*pen.UsualSize, b.Fit(c.Name, besideWidth+besideLabels, pen.Usual.Strong()), pen.Usual.Strong())
	b.Line(pen.Stroke{Ink: pen.InkSoft, Width: 0.35}, pen.At(x, b.surface), pen.At(x+besideWidth, b.surface))
	if len(c.Core.Layers) == 0 {
		b.Text(x, b.surface+1.5*pen.UsualSize, "no layer yet", pen.Soft)
		return
	}
	wanted := make([]float64, len(c.Core.Layers))
	for i, l := range c.Core.Layers {
		b.Group(besideLayer(l, b.Units), func() {
			b.FillLayer(x, b.y(l.TopMM), besideWidth, l.Thickness.Value*b.scale, l.Hex, l.Band)
		})
		wanted[i] = b.y(l.TopMM + l.Thickness.Value/2)
	}
	b.Frame(x, b.surface, besideWidth, c.Core.DepthMM()*b.scale, pen.Stroke{Ink: pen.InkSoft, Width: 0.2})
	b.labels(c.Core, wanted, x)
	b.oxic(c.Core, x)
}

func (b *beside) oxic(c reports.Core, x float64) {
	if c.OxicDepth == nil || c.OxicDepth.AtLeast {
		return
	}
	b.Group("colour oxic depth "+words.Length(b.Units).Estimate(*c.OxicDepth), func() {
		right := x + besideWidth
		b.OverLayers(pen.Stroke{Ink: pen.InkOxic, Width: 0.5}, b.scale, b.y(c.OxicDepth.Value), x, right, x-0.8, right+0.8)
	})
}

// labels writes what each layer is, joined to it by a line. No label overlaps another.
func (b *beside) labels(c reports.Core, wanted []float64, x float64) {
	right, at := x+besideWidth, x+besideWidth+4
	lead := pen.Stroke{Ink: pen.InkSoft.Faint(0.7), Width: 0.2}
	width := besideLabels - 4
	for i, y := range pen.Apart(wanted, besidePitch, b.surface+besidePitch/2, b.lowest-besidePitch/2) {
		l := c.Layers[i]
		b.Line(lead, pen.At(right, wanted[i]), pen.At(right+1, wanted[i]), pen.At(at-1.2, y), pen.At(at-0.4, y))
		b.Text(at, y-0.12*pen.UsualSize, b.Fit(words.Band(l), width, pen.Usual), pen.Usual)
		b.Text(at, y+0.95*pen.SmallSize, b.Fit(besideSub(l, b.Units), width, pen.Small), pen.Small)
	}
}

// besideSub is a layer's thickness and, if its name is in doubt, the other name.
func besideSub(l reports.Layer, u layers.Units) string {
	return words.WithBeside(words.Depth(u, l.Thickness.Value), l)
}

func besideLayer(l reports.Layer, u layers.Units) string {
	return words.Band(l) + ", " + besideSub(l, u)
}

func besideWords(c reports.Core, u layers.Units) string {
	if len(c.Layers) == 0 {
		return "no layer."
	}
	var parts []string
	for _, l := range c.Layers {
		parts = append(parts, besideLayer(l, u))
	}
	return strings.Join(parts, "; ") + "."
}
