package figure

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// CoreOptions say how a core is drawn.
type CoreOptions struct {
	Tank        string // its name, as a heading
	Units       layers.Units
	Penetration *reports.Estimate // how deep dissolved oxygen reaches; nil: not known
}

// The layout of a core's picture, mm from the left (assumptions: fits on paper side by side
// and is still readable on a phone).
const (
	coreWidth    = 118.0 // the picture's width
	rulerX       = 12.0
	bracketX     = 17.0
	coreLeft     = 20.5
	coreRight    = 46.5
	coreLabelX   = 56.0
	coreWater    = 8.0 // height of the water above the bed
	coreLabelGap = 7.6 // from one label to the next: two lines
)

// Core draws one core to scale: its layers in the colours as read and the grain of their
// bands, names and depths beside them, the colour oxic depth with its range as a bracket,
// the modelled oxygen penetration as a fine line, traced edges as waves, and a ruler from
// the bed surface down.
func Core(core reports.Core, o CoreOptions) *pen.Figure {
	c := corePicture{Figure: pen.NewFigure(words.CoreTitle(core), coreWidth), core: core, CoreOptions: o}
	c.scale = scaleOf(c.core.DepthMM())
	c.surface = c.heading() + coreWater
	foot := c.surface + c.core.DepthMM()*c.scale
	labels := c.labels()
	low := c.surface - coreWater + pen.UsualSize/2
	c.lowest = max(foot, low+float64(len(labels)-1)*coreLabelGap) + coreLabelGap/2
	c.water()
	c.layers()
	c.ruler()
	c.oxic()
	c.penetration()
	c.name(labels, low)
	c.Height = c.foot()
	c.Desc = c.description()
	return c.Figure
}

type corePicture struct {
	*pen.Figure
	CoreOptions
	core    reports.Core
	scale   float64 // mm on paper per mm of bed
	surface float64 // the place of the bed surface, mm
	lowest  float64 // the end of the core and its labels, mm
}

// scaleOf is a round scale for a bed of a depth in mm: life-size unless that is tiny or more
// than a page holds.
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
	return 1.0 / 15 // the deepest bed that a logbook takes, 2000 mm, on 133 mm
}

// y is the place of a depth.
func (c *corePicture) y(mm float64) float64 { return c.surface + mm*c.scale }

// heading writes the name and the scale and returns where the water begins.
func (c *corePicture) heading() float64 {
	y := pen.Margin + pen.Ascent*pen.TitleSize
	c.Text(pen.Margin, y, c.Fit(cmp.Or(c.Tank, words.CoreTitle(c.core)), coreWidth-2*pen.Margin, pen.Title), pen.Title)
	y += 1.5 * pen.UsualSize
	var parts []string
	if c.Tank != "" {
		parts = append(parts, words.CoreTitle(c.core))
	}
	parts = append(parts, scaleWords(c.scale))
	return c.Paragraph(pen.Margin, y, coreWidth-2*pen.Margin, strings.Join(parts, ", "), pen.Soft)
}

// scaleWords put a scale, mm on paper per mm of bed, into words.
func scaleWords(scale float64) string {
	switch {
	case scale == 1:
		return "life-size in print"
	case scale > 1:
		return fmt.Sprintf("%g times life-size in print", scale)
	}
	return fmt.Sprintf("1 : %g in print", math.Round(10/scale)/10)
}

func (c *corePicture) water() {
	top, foot := c.surface-coreWater+1, c.surface
	if c.core.Surface != nil {
		foot = c.y(c.core.Surface.LowestMM)
	}
	c.Rect(coreLeft, top, coreRight-coreLeft, foot-top, pen.InkWater)
	c.Text((coreLeft+coreRight)/2, top+3.4, "water", pen.Small.To(pen.Centred))
}
