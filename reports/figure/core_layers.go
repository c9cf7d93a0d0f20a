package figure

import (
	"math"

	"panecore/reports"
	"panecore/reports/figure/pen"
)

// edgePoints is how many points an edge is drawn with where it has relief.
const edgePoints = 41

// edge is the line of a layer's boundary from left to right. Where its relief was traced
// it is a wave from its highest to its lowest place: the height is true, the shape is not
// known. No edge rises above the one before.
func (c *corePicture) edge(depth float64, relief *reports.Relief, above []pen.Point) []pen.Point {
	if relief == nil {
		relief = &reports.Relief{HighestMM: depth, LowestMM: depth}
	}
	line := make([]pen.Point, edgePoints)
	for i := range line {
		share := float64(i) / (edgePoints - 1)
		wave := math.Sin(2 * math.Pi * 2.5 * share) // waves across the picture: so that both ends stand at the mean
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

// layer fills what lies between two edges; a level one is a plain rectangle.
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
