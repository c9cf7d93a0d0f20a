package figure

import (
	"math"

	"panecore/reports"
	"panecore/reports/figure/pen"
)

// edgePoints is the number of points of an edge.
const edgePoints = 41

// edge is a layer's boundary from left to right. A traced one is a wave between its highest
// and lowest depth: the height is true, the shape is not known. No edge rises above the one
// before.
func (c *corePicture) edge(depth float64, relief *reports.Relief, above []pen.Point) []pen.Point {
	if relief == nil {
		relief = &reports.Relief{HighestMM: depth, LowestMM: depth}
	}
	line := make([]pen.Point, edgePoints)
	for i := range line {
		share := float64(i) / (edgePoints - 1)
		wave := math.Sin(2 * math.Pi * 2.5 * share) // two and a half waves: both ends stand at the mean
		mm := depth + max(0, wave)*(relief.LowestMM-depth) + min(0, wave)*(depth-relief.HighestMM)
		line[i] = pen.At(coreLeft+share*(coreRight-coreLeft), c.y(mm))
		if above != nil {
			line[i].Y = max(line[i].Y, above[i].Y)
		}
	}
	return line
}

// layers draws the layers between their edges.
func (c *corePicture) layers() {
	above := c.edge(0, c.core.Surface, nil)
	thin := pen.Stroke{Ink: pen.InkWord.Faint(0.45), Width: 0.15}
	for _, l := range c.core.Layers {
		below := c.edge(l.BottomMM(), l.Edge, above)
		c.Group(c.layerWords(l), func() {
			c.layer(l, above, below)
		})
		c.Line(thin, below...)
		above = below
	}
	left, right := c.edge(0, c.core.Surface, nil)[0], above[edgePoints-1]
	side := pen.Stroke{Ink: pen.InkSoft, Width: 0.35}
	c.Line(side, pen.At(coreLeft, left.Y-coreWater+1), pen.At(coreLeft, right.Y))
	c.Line(side, pen.At(coreRight, left.Y-coreWater+1), pen.At(coreRight, right.Y))
}

// layer fills the space between two edges. A level one is a rectangle, which keeps the file
// small.
func (c *corePicture) layer(l reports.Layer, above, below []pen.Point) {
	left, right := above[0].X, above[edgePoints-1].X
	top, foot := pen.Extremes(above)[1], pen.Extremes(below)[0]
	if pen.Extremes(above)[0] == top && pen.Extremes(below)[1] == foot {
		c.FillLayer(left, top, right-left, foot-top, l.Hex, l.Band)
		return
	}
	outline := append([]pen.Point{}, above...)
	for i := range below {
		outline = append(outline, below[len(below)-1-i])
	}
	c.Area(pen.AsRead(l.Hex), outline...)
	c.Grain(left, top, right-left, foot-top, l.Hex, l.Band)
}

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

// penetration draws where dissolved oxygen ends in the model.
func (c *corePicture) penetration() {
	e := c.Penetration
	if e == nil || len(c.core.Layers) == 0 {
		return
	}
	c.Group("oxygen penetration "+c.length(*e), func() {
		c.crossing(e.Value, coreLeft, pen.Stroke{Ink: pen.InkOxic, Width: 0.3, Dash: 1, Gap: 0.7})
	})
}

// crossing draws a line across the core at a depth, or at its foot if the depth lies below it.
func (c *corePicture) crossing(mm, from float64, s pen.Stroke) {
	c.OverLayers(s, c.scale, c.y(min(mm, c.core.DepthMM())), coreLeft, coreRight, from, coreRight+1)
}

// bracket draws a range as a bar with ends. One with no known lower end has an arrow there.
func (c *corePicture) bracket(x float64, e reports.Estimate, s pen.Stroke) {
	const reach = 1.1 // of the ends to either side, mm
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
