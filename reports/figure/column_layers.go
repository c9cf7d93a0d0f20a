package figure

import (
	"math"

	"panecore/reports"
)

// edgePoints is how many points an edge is drawn with where it has relief.
const edgePoints = 41

// edge is the line of a layer's boundary from left to right. Where its relief was traced
// it is a wave from its highest to its lowest place: the height is true, the shape is not
// known. No edge rises above the one before.
func (c *column) edge(depth float64, relief *reports.Relief, above []point) []point {
	if relief == nil {
		relief = &reports.Relief{HighestMM: depth, LowestMM: depth}
	}
	line := make([]point, edgePoints)
	for i := range line {
		share := float64(i) / (edgePoints - 1)
		wave := math.Sin(2 * math.Pi * 2.5 * share) // waves across the picture: so that both ends stand at the mean
		mm := depth + max(0, wave)*(relief.LowestMM-depth) + min(0, wave)*(depth-relief.HighestMM)
		line[i] = point{columnLeft + share*(columnRight-columnLeft), c.y(mm)}
		if above != nil {
			line[i].y = max(line[i].y, above[i].y)
		}
	}
	return line
}

// layers draws the layers between their edges.
func (c *column) layers() {
	above := c.edge(0, c.core.Surface, nil)
	thin := stroke{ink: inkWord.faint(0.45), width: 0.15}
	for _, l := range c.core.Layers {
		below := c.edge(l.BottomMM(), l.Edge, above)
		c.group(c.layerWords(l), func() {
			c.layer(l, above, below)
		})
		c.line(thin, below...)
		above = below
	}
	left, right := c.edge(0, c.core.Surface, nil)[0], above[edgePoints-1]
	side := stroke{ink: inkSoft, width: 0.35}
	c.line(side, point{columnLeft, left.y - columnWater + 1}, point{columnLeft, right.y})
	c.line(side, point{columnRight, left.y - columnWater + 1}, point{columnRight, right.y})
}

// layer fills what lies between two edges; a level one is a plain rectangle.
func (c *column) layer(l reports.Layer, above, below []point) {
	left, right := above[0].x, above[edgePoints-1].x
	top, foot := extremes(above)[1], extremes(below)[0]
	if extremes(above)[0] == top && extremes(below)[1] == foot {
		c.bed(left, top, right-left, foot-top, l.Hex, l.Band)
		return
	}
	outline := append([]point{}, above...)
	for i := range below {
		outline = append(outline, below[len(below)-1-i])
	}
	c.area(asRead(l.Hex), outline...)
	c.grain(left, top, right-left, foot-top, l.Hex, l.Band)
}
