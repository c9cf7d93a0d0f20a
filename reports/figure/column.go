package figure

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// ColumnOptions say how a core is drawn.
type ColumnOptions struct {
	Tank        string // its name, as a heading
	Units       layers.Units
	Penetration *reports.Estimate // how deep dissolved oxygen reaches; nil: not known
}

// Where the parts of a column's picture stand, mm from the left (assumptions: what fits
// beside each other on paper and still reads on a phone).
const (
	columnWidth    = 118.0 // of the picture
	rulerX         = 12.0
	bracketX       = 17.0
	columnLeft     = 20.5
	columnRight    = 46.5
	columnLabelX   = 56.0
	columnWater    = 8.0 // of water above the bed
	columnLabelGap = 7.6 // from one label to the next: two lines
)

// Column draws one core to scale: its layers in the colours as read with a grain for each
// band, names and depths beside them, the colour oxic depth with its range as a bracket,
// the modelled oxygen penetration as a fine line, edges as waves where their relief was
// traced, and a ruler from the bed surface down.
func Column(core reports.Core, o ColumnOptions) *Figure {
	c := column{Figure: newFigure(words.CoreTitle(core), columnWidth), core: core, ColumnOptions: o}
	c.scale = scaleOf(c.core.DepthMM())
	c.surface = c.heading() + columnWater
	foot := c.surface + c.core.DepthMM()*c.scale
	labels := c.labels()
	low := c.surface - columnWater + usualSize/2
	c.lowest = max(foot, low+float64(len(labels)-1)*columnLabelGap) + columnLabelGap/2
	c.water()
	c.layers()
	c.ruler()
	c.oxic()
	c.penetration()
	c.name(labels, low)
	c.Height = c.foot()
	c.Desc = c.told()
	return c.Figure
}

// column is a core's picture as it is drawn.
type column struct {
	*Figure
	ColumnOptions
	core    reports.Core
	scale   float64 // mm on paper for a mm of bed
	surface float64 // where the bed surface lies, mm
	lowest  float64 // where the drawing ends
}

// scaleOf is a scale that is easily said for a bed of so many mm: life-size where that is
// neither small nor more than a page holds.
func scaleOf(depth float64) float64 {
	const least, most = 45, 165 // mm of paper (assumption)
	if depth < least {
		return max(1, math.Floor(min(4, 2*least/max(depth, 1))))
	}
	for _, reduced := range []float64{1, 2, 3, 4, 5, 8, 10} {
		if depth/reduced <= most {
			return 1 / reduced
		}
	}
	return 1.0 / 15 // 2000 mm, the deepest that a logbook takes, on 133 mm
}

// y is the place of a depth.
func (c *column) y(mm float64) float64 { return c.surface + mm*c.scale }

// heading writes what is drawn and returns where the water begins.
func (c *column) heading() float64 {
	y := margin + ascent*titleSize
	c.text(margin, y, c.fit(cmp.Or(c.Tank, words.CoreTitle(c.core)), columnWidth-2*margin, title), title)
	y += 1.5 * usualSize
	var parts []string
	if c.Tank != "" {
		parts = append(parts, words.CoreTitle(c.core))
	}
	parts = append(parts, scaleWords(c.scale))
	return c.paragraph(margin, y, columnWidth-2*margin, strings.Join(parts, ", "), soft)
}

// scaleWords say how many mm on paper stand for a mm of bed.
func scaleWords(scale float64) string {
	switch {
	case scale == 1:
		return "life-size in print"
	case scale > 1:
		return fmt.Sprintf("%g times life-size in print", scale)
	}
	return fmt.Sprintf("1 : %g in print", math.Round(10/scale)/10)
}

func (c *column) water() {
	top, foot := c.surface-columnWater+1, c.surface
	if c.core.Surface != nil {
		foot = c.y(c.core.Surface.LowestMM)
	}
	c.rect(columnLeft, top, columnRight-columnLeft, foot-top, inkWater)
	c.text((columnLeft+columnRight)/2, top+3.4, "water", small.to(centred))
}
