package figure

import (
	"panecore/reports"
	"panecore/reports/figure/pen"
)

// oxic draws the colour oxic depth: a bracket over its range beside the core, and a line
// across it.
func (c *corePicture) oxic() {
	e := c.core.OxicDepth
	if e == nil || len(c.core.Layers) == 0 {
		return
	}
	c.Group("colour oxic depth "+c.length(*e), func() {
		c.crossing(e.Value, bracketX, pen.Stroke{Ink: pen.InkOxic, Width: 0.5})
		c.bracket(bracketX, *e, pen.Stroke{Ink: pen.InkOxic, Width: 0.45})
	})
}

// penetration draws where dissolved oxygen ends by the model.
func (c *corePicture) penetration() {
	e := c.Penetration
	if e == nil || len(c.core.Layers) == 0 {
		return
	}
	c.Group("oxygen penetration "+c.length(*e), func() {
		c.crossing(e.Value, coreLeft, pen.Stroke{Ink: pen.InkOxic, Width: 0.3, Dash: 1, Gap: 0.7})
	})
}

// crossing draws a line across the core at a depth, as far as it was seen.
func (c *corePicture) crossing(mm, from float64, s pen.Stroke) {
	c.OverLayers(s, c.scale, c.y(min(mm, c.core.DepthMM())), coreLeft, coreRight, from, coreRight+1)
}

// bracket draws a range: a bar with ends; one that is not known downward ends in an arrow.
func (c *corePicture) bracket(x float64, e reports.Estimate, s pen.Stroke) {
	const reach = 1.1 // of its ends to either side, mm
	low, high := c.y(e.Low), c.y(min(e.High, c.core.DepthMM()))
	if e.AtLeast {
		high = max(high, low+3*reach)
		c.Line(s, pen.At(x-reach, high-1.4*reach), pen.At(x, high), pen.At(x+reach, high-1.4*reach))
	} else {
		c.Line(s, pen.At(x-reach, high), pen.At(x+reach, high))
	}
	c.Line(s, pen.At(x-reach, low), pen.At(x+reach, low))
	c.Line(s, pen.At(x, low), pen.At(x, high))
}

// ruler draws the depths from the bed surface down.
func (c *corePicture) ruler() {
	hair := pen.Stroke{Ink: pen.InkSoft, Width: 0.2}
	depth := c.core.DepthMM()
	c.Text(rulerX, c.surface-1.6*pen.UsualSize, c.Units.String(), pen.Small.To(pen.UpToHere))
	major, minor := pen.TicksOf(c.Units, 8/c.scale, 0.9/c.scale)
	c.Line(hair, pen.At(rulerX+1, c.surface), pen.At(rulerX+1, c.y(depth)))
	for n := 0; ; n++ {
		mm := float64(n) * minor.MM
		if mm > depth+1e-9 {
			break
		}
		long := 0.7
		if n%(major.Count(minor)) == 0 {
			long = 1.4
			c.Text(rulerX, c.y(mm)+0.36*pen.SmallSize, major.Words(mm), pen.Small.To(pen.UpToHere))
		}
		c.Line(hair, pen.At(rulerX+1, c.y(mm)), pen.At(rulerX+1+long, c.y(mm)))
	}
}
