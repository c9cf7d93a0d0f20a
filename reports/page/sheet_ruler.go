package page

import (
	"fmt"
	"strconv"

	"panecore/layers"
	"panecore/palette"
)

// graduation is how a ruler is divided. Its marks are counted from 0.
type graduation struct {
	tick   float64 // mm from one mark to the next
	toUnit int     // marks per unit of the numbers
	bold   int     // marks from one bold mark to the next
	sketch int     // marks down a sketch column
	strip  int     // marks down the ruler to cut out
}

// Every tenth mark has a number, every fifth is longer than those between.
const (
	numbered = 10
	halfway  = 5
)

// graduationOf divides into millimetres, or into tenths of an inch, as panecore reads inches in
// decimals. A sketch column is as deep as the page has room for.
func graduationOf(u layers.Units) graduation {
	if u == layers.Inches {
		return graduation{tick: 1 / u.Of(1) / 10, toUnit: 10, bold: 20, sketch: 50, strip: 80}
	}
	return graduation{tick: 1, toUnit: 1, bold: 50, sketch: 130, strip: 200}
}

// unit is a unit of the numbers, mm.
func (g graduation) unit() float64 { return float64(g.toUnit) * g.tick }

func (g graduation) at(mark int) float64 { return float64(mark) * g.tick }

// number is the number at a mark.
func (g graduation) number(mark int) string {
	return strconv.FormatFloat(float64(mark)/float64(g.toUnit), 'f', -1, 64)
}

// Sizes of a sketch column, mm: four fit side by side.
const (
	sketchWidth  = 45
	sketchTop    = 4.5 // above the bed surface
	sketchFoot   = 1.5
	sketchLeft   = 11.5
	sketchRight  = 27.5
	sketchLetter = 2.6
)

// drawSketch draws a column to sketch a core in, with a ruler on its left and room for words
// on its right.
func drawSketch(g graduation, u layers.Units, n int) *drawing {
	depth := g.at(g.sketch)
	d := &drawing{
		Title: fmt.Sprintf("Column %d to sketch in, life-size: a ruler from 0 at the bed surface down to %s %s",
			n, g.number(g.sketch), u),
		Width: sketchWidth, Height: millimetres(sketchTop + depth + sketchFoot),
	}
	for mark := range g.sketch + 1 {
		y, reach := sketchTop+g.at(mark), 1.6
		switch {
		case mark%numbered == 0:
			reach = 4
			d.text(sketchLeft-reach-0.7, y+0.35*sketchLetter, sketchLetter, "end", g.number(mark))
			if mark > 0 && mark < g.sketch {
				d.line("dotted", sketchLeft, y, sketchWidth, y)
			}
		case mark%halfway == 0:
			reach = 2.6
		}
		d.line("thin", sketchLeft-reach, y, sketchLeft, y)
	}
	d.box("thin", sketchLeft, sketchTop, sketchRight-sketchLeft, depth)
	d.line("firm", sketchLeft-4, sketchTop, sketchWidth, sketchTop)
	d.text(sketchLeft-4.7, sketchTop-2.2, sketchLetter, "end", u.String())
	d.text(sketchLeft, sketchTop-1, sketchLetter, "start", "bed surface")
	d.text(sketchWidth, sketchTop-1, sketchLetter, "end", "colour, band")
	return d
}

// Sizes of the ruler to cut out, mm (assumptions: numbers that can be read in a photo taken a
// forearm away, targets that a finger can pick).
const (
	stripWidth   = 24
	stripMargin  = 12 // above 0 and below the end, for the tape
	targetX      = 8.4
	targetRadius = 3
	stripNumberX = 12.4
	stripLetter  = 4
)

// drawStrip draws a ruler with marks on both edges and a target at each bold mark.
func drawStrip(g graduation, u layers.Units, n int) *drawing {
	length := g.at(g.strip)
	d := &drawing{
		Title: fmt.Sprintf("Ruler %d to cut out: 0 to %s %s from the top down, with a cross in a circle at every %s",
			n, g.number(g.strip), u, g.number(g.bold)),
		Width: stripWidth, Height: millimetres(length + 2*stripMargin),
	}
	for mark := range g.strip + 1 {
		y, reach, class := stripMargin+g.at(mark), 1.8, "thin"
		switch {
		case mark%g.bold == 0:
			reach, class = 4, "bold"
			d.target(targetX, y)
			d.boldText(stripNumberX, y+0.36*stripLetter, stripLetter, "start", g.number(mark))
		case mark%numbered == 0:
			reach, class = 3.6, "firm"
			d.text(stripNumberX, y+0.36*stripLetter, stripLetter, "start", g.number(mark))
		case mark%halfway == 0:
			reach = 2.8
		}
		d.line(class, 0, y, reach, y)
		d.line(class, stripWidth-reach, y, stripWidth, y)
	}
	d.box("cut", 0.1, 0.1, stripWidth-0.2, length+2*stripMargin-0.2)
	d.text(stripWidth/2, 4.5, sketchLetter, "middle", "tape here")
	d.text(stripWidth/2, length+2*stripMargin-2.5, sketchLetter, "middle", "tape here")
	d.text(stripWidth-0.8, 9, sketchLetter, "end", u.String())
	return d
}

// The grey steps run from bare paper to full black in even steps of lightness, as far as the
// printer keeps to them.
const (
	greySteps  = 6
	greyPatch  = 3  // the patch to mark: neither burnt out nor dark
	patchSide  = 20 // mm
	greyMargin = 8  // mm above and below, for the tape
	greyWidth  = 28 // mm
)

func drawGreys() *drawing {
	d := &drawing{
		Title: fmt.Sprintf("%d grey patches to cut out, from white paper to black; patch %d is the one to mark in a photo", greySteps, greyPatch),
		Width: greyWidth, Height: greySteps*patchSide + 2*greyMargin,
	}
	for step := range greySteps {
		y := greyMargin + float64(step)*patchSide
		lightness := 100 * float64(greySteps-1-step) / (greySteps - 1)
		d.Patches = append(d.Patches, patch{0.4, millimetres(y), patchSide, patchSide, palette.Lab{L: lightness}.Linear().Color()})
		d.boldText(24.2, y+patchSide/2+1.2, 3.4, "middle", strconv.Itoa(step+1))
	}
	middle := greyMargin + (greyPatch-0.5)*patchSide
	d.path("firm", fmt.Sprintf("M21.8 %vh4.8v5h-4.8Z", millimetres(middle-2.5)))
	d.box("thin", 0.4, greyMargin, patchSide, greySteps*patchSide)
	d.box("cut", 0.1, 0.1, greyWidth-0.2, greySteps*patchSide+2*greyMargin-0.2)
	d.text(greyWidth/2, 4.5, sketchLetter, "middle", "tape here")
	d.text(greyWidth/2, greySteps*patchSide+2*greyMargin-2.5, sketchLetter, "middle", "tape here")
	return d
}

// hundred is the length of the lines to measure, mm.
const hundred = 100

// drawCheckAcross draws a level line of a length, mm, between two end marks.
func drawCheckAcross(length float64, text string) *drawing {
	d := &drawing{Title: "A level line of " + text, Width: millimetres(length + 2), Height: 7}
	d.line("check", 1, 4.5, 1+length, 4.5)
	d.line("thin", 1, 2, 1, 7)
	d.line("thin", 1+length, 2, 1+length, 7)
	d.text(1+length/2, 3.4, sketchLetter, "middle", text)
	return d
}

// drawCheckUpright draws an upright one.
func drawCheckUpright(length float64, text string) *drawing {
	d := &drawing{Title: "An upright line of " + text, Width: 13, Height: millimetres(length + 2)}
	d.line("check", 2.5, 1, 2.5, 1+length)
	d.line("thin", 0, 1, 5, 1)
	d.line("thin", 0, 1+length, 5, 1+length)
	d.text(3.4, 1+length/2, sketchLetter, "start", text)
	return d
}
