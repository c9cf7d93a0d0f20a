package figure

import (
	"cmp"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// label is what stands beside a column: what it is about and, below, the rest.
type label struct {
	at        float64 // depth, mm
	head, sub string
	ink       Ink
}

// labels are a core's labels, by depth.
func (c *column) labels() []label {
	var list []label
	for _, l := range c.core.Layers {
		list = append(list, label{l.TopMM + l.Thickness.Value/2, l.Band.String() + "  " + c.length(l.Thickness), c.layerSub(l), inkWord})
	}
	if e := c.Penetration; e != nil && len(c.core.Layers) > 0 {
		list = append(list, label{min(e.Value, c.core.DepthMM()), "oxygen penetration", c.length(*e) + ", " + words.Basis(*e), inkOxic})
	}
	if e := c.core.OxicDepth; e != nil && len(c.core.Layers) > 0 {
		list = append(list, label{min(e.Value, c.core.DepthMM()), "colour oxic depth", c.length(*e) + ", " + words.Basis(*e), inkOxic})
	}
	slices.SortStableFunc(list, func(a, b label) int { return cmp.Compare(a.at, b.at) })
	return list
}

func (c *column) length(e reports.Estimate) string { return words.Length(c.Units).Estimate(e) }

func (c *column) layerSub(l reports.Layer) string {
	sub := "from " + words.OnRuler(c.Units, l.TopMM) + " " + c.Units.String() + ", " + l.Hex.String()
	if beside := words.Beside(l); beside != "" {
		return sub + ", " + beside
	}
	return sub
}

// layerWords tell a layer in one line.
func (c *column) layerWords(l reports.Layer) string {
	text := "from " + words.OnRuler(c.Units, l.TopMM) + " " + c.Units.String() + ": " + words.Band(l) + ", " + c.length(l.Thickness) + ", " + l.Hex.String()
	if beside := words.Beside(l); beside != "" {
		text += ", " + beside
	}
	return text
}

// name writes the labels, each led to from its depth; none overlaps another, however thin
// the layers, and no leader crosses one.
func (c *column) name(labels []label, low float64) {
	wanted := make([]float64, len(labels))
	for i, l := range labels {
		wanted[i] = c.y(l.at)
	}
	lead := stroke{ink: inkSoft, width: 0.2}
	width := columnWidth - margin - columnLabelX
	for i, y := range Apart(wanted, columnLabelGap, low, c.lowest-columnLabelGap/2) {
		l := labels[i]
		c.line(stroke{ink: l.ink.faint(0.7), width: lead.width},
			point{columnRight, wanted[i]}, point{columnRight + 2.5, wanted[i]}, point{columnLabelX - 3, y}, point{columnLabelX - 1, y})
		c.text(columnLabelX, y-0.12*usualSize, c.fit(l.head, width, usual.strong()), usual.strong().inInk(l.ink))
		c.text(columnLabelX, y+0.95*smallSize, c.fit(l.sub, width, small), small)
	}
}

// foot writes what is to be known besides, and returns the picture's height.
func (c *column) foot() float64 {
	var parts []string
	if len(c.core.Layers) > 0 {
		parts = append(parts, "90 % ranges in brackets.")
	}
	if c.core.Surface != nil {
		parts = append(parts, "Waves: how far an edge rises and falls across the photo's strip; its shape is not drawn.")
	}
	if len(c.core.Signs) > 0 {
		parts = append(parts, "Seen: "+strings.Join(words.Signs(layers.Core{Signs: c.core.Signs}), ", ")+".")
	}
	return c.paragraph(margin, c.lowest+ascent*smallSize+1, columnWidth-2*margin, strings.Join(parts, " "), small) + margin - leading*smallSize + descent*smallSize
}

// told is the picture in words.
func (c *column) told() string {
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
