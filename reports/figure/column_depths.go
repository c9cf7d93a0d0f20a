package figure

import "panecore/reports"

// oxic draws the colour oxic depth: a bracket over its range beside the column, and a line
// across it.
func (c *column) oxic() {
	e := c.core.OxicDepth
	if e == nil || len(c.core.Layers) == 0 {
		return
	}
	c.group("colour oxic depth "+c.length(*e), func() {
		c.crossing(e.Value, bracketX, stroke{ink: inkOxic, width: 0.5})
		c.bracket(bracketX, *e, stroke{ink: inkOxic, width: 0.45})
	})
}

// penetration draws where dissolved oxygen ends by the model.
func (c *column) penetration() {
	e := c.Penetration
	if e == nil || len(c.core.Layers) == 0 {
		return
	}
	c.group("oxygen penetration "+c.length(*e), func() {
		c.crossing(e.Value, columnLeft, stroke{ink: inkOxic, width: 0.3, dash: 1, gap: 0.7})
	})
}

// crossing draws a line across the column at a depth, as far as the column was seen.
func (c *column) crossing(mm, from float64, s stroke) {
	c.overLayers(s, c.scale, c.y(min(mm, c.core.DepthMM())), columnLeft, columnRight, from, columnRight+1)
}

// bracket draws a range: a bar with ends; one that is not known downward ends in an arrow.
func (c *column) bracket(x float64, e reports.Estimate, s stroke) {
	const reach = 1.1 // of its ends to either side, mm
	low, high := c.y(e.Low), c.y(min(e.High, c.core.DepthMM()))
	if e.AtLeast {
		high = max(high, low+3*reach)
		c.line(s, point{x - reach, high - 1.4*reach}, point{x, high}, point{x + reach, high - 1.4*reach})
	} else {
		c.line(s, point{x - reach, high}, point{x + reach, high})
	}
	c.line(s, point{x - reach, low}, point{x + reach, low})
	c.line(s, point{x, low}, point{x, high})
}

// ruler draws the depths from the bed surface down.
func (c *column) ruler() {
	hair := stroke{ink: inkSoft, width: 0.2}
	depth := c.core.DepthMM()
	c.text(rulerX, c.surface-1.6*usualSize, c.Units.String(), small.to(upToHere))
	major, minor := ticksOf(c.Units, 8/c.scale, 0.9/c.scale)
	c.line(hair, point{rulerX + 1, c.surface}, point{rulerX + 1, c.y(depth)})
	for n := 0; ; n++ {
		mm := float64(n) * minor.mm
		if mm > depth+1e-9 {
			break
		}
		long := 0.7
		if n%(major.count(minor)) == 0 {
			long = 1.4
			c.text(rulerX, c.y(mm)+0.36*smallSize, major.words(mm), small.to(upToHere))
		}
		c.line(hair, point{rulerX + 1, c.y(mm)}, point{rulerX + 1 + long, c.y(mm)})
	}
}
