package figure

import (
	"cmp"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// label is a heading beside a core, and a smaller line below it.
type label struct {
	at        float64 // depth, mm
	head, sub string
	ink       pen.Ink
}

// labels are a core's labels, by depth.
func (c *corePicture) labels() []label {
	var list []label
	for _, l := range c.core.Layers {
		list = append(list, label{l.TopMM + l.Thickness.Value/2, l.Band.String() + "  " + c.length(l.Thickness), c.layerSub(l), pen.InkWord})
	}
	if e := c.Penetration; e != nil && len(c.core.Layers) > 0 {
		list = append(list, label{min(e.Value, c.core.DepthMM()), "oxygen penetration", c.length(*e) + ", " + words.Basis(*e), pen.InkOxic})
	}
	if e := c.core.OxicDepth; e != nil && len(c.core.Layers) > 0 {
		list = append(list, label{min(e.Value, c.core.DepthMM()), "colour oxic depth", c.length(*e) + ", " + words.Basis(*e), pen.InkOxic})
	}
	slices.SortStableFunc(list, func(a, b label) int { return cmp.Compare(a.at, b.at) })
	return list
}

func (c *corePicture) length(e reports.Estimate) string { return words.Length(c.Units).Estimate(e) }

func (c *corePicture) layerSub(l reports.Layer) string {
	return words.WithBeside("from "+words.Depth(c.Units, l.TopMM)+", "+l.Hex.String(), l)
}

func (c *corePicture) layerWords(l reports.Layer) string {
	return words.WithBeside("from "+words.Depth(c.Units, l.TopMM)+": "+words.Band(l)+", "+c.length(l.Thickness)+", "+l.Hex.String(), l)
}

// name writes the labels, each joined to its depth by a line. No label overlaps another,
// however thin the layers are, and no line crosses a label.
func (c *corePicture) name(labels []label, low float64) {
	wanted := make([]float64, len(labels))
	for i, l := range labels {
		wanted[i] = c.y(l.at)
	}
	lead := pen.Stroke{Ink: pen.InkSoft, Width: 0.2}
	width := coreWidth - pen.Margin - coreLabelX
	for i, y := range pen.Apart(wanted, coreLabelGap, low, c.lowest-coreLabelGap/2) {
		l := labels[i]
		c.Line(pen.Stroke{Ink: l.ink.Faint(0.7), Width: lead.Width},
			pen.At(coreRight, wanted[i]), pen.At(coreRight+2.5, wanted[i]), pen.At(coreLabelX-3, y), pen.At(coreLabelX-1, y))
		c.Text(coreLabelX, y-0.12*pen.UsualSize, c.Fit(l.head, width, pen.Usual.Strong()), pen.Usual.Strong().InInk(l.ink))
		c.Text(coreLabelX, y+0.95*pen.SmallSize, c.Fit(l.sub, width, pen.Small), pen.Small)
	}
}

// foot writes the notes below the core and returns the picture's height.
func (c *corePicture) foot() float64 {
	var parts []string
	if len(c.core.Layers) > 0 {
		parts = append(parts, "90 % ranges in brackets.")
	}
	if c.core.Surface != nil {
		parts = append(parts, "Waves: how far an edge rises and falls across the photo's strip; its true shape is not drawn.")
	}
	if len(c.core.Signs) > 0 {
		parts = append(parts, "Seen: "+strings.Join(words.Signs(layers.Core{Signs: c.core.Signs}), ", ")+".")
	}
	return c.Paragraph(pen.Margin, c.lowest+pen.Ascent*pen.SmallSize+1, coreWidth-2*pen.Margin, strings.Join(parts, " "), pen.Small) + pen.Margin - pen.Leading*pen.SmallSize + pen.Descent*pen.SmallSize
}

func (c *corePicture) description() string {
	if len(c.core.Layers) == 0 {
		return "No layer was read."
	}
	parts := []string{"From the bed surface down:"}
	for _, l := range c.core.Layers {
		parts = append(parts, c.layerWords(l)+";")
	}
	if e := c.core.OxicDepth; e != nil {
		parts = append(parts, "colour oxic depth "+c.length(*e)+", "+words.Basis(*e)+".")
	}
	if e := c.Penetration; e != nil {
		parts = append(parts, "Oxygen penetration "+c.length(*e)+", "+words.Basis(*e)+".")
	}
	return strings.Join(parts, " ")
}
