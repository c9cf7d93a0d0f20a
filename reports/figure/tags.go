package figure

import (
	"fmt"
	"math"
	"strconv"

	"panecore/layers"
	"panecore/layers/tag"
	"panecore/palette"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// tagGap is between two tags, mm.
const tagGap = 4.0

// checkLine is the length of the lines to measure, mm.
const checkLine = 100.0

// The inks of a tag stay black and white on a dark screen.
var (
	tagInk   = pen.AsRead(palette.Color{})
	tagPaper = pen.AsRead(palette.Color{R: 0xff, G: 0xff, B: 0xff})
	tagGrey  = pen.AsRead(palette.Color{R: 0x77, G: 0x77, B: 0x77}) // L* 50
)

// tagSheet is a sheet of tags being drawn. A length on it is zoom times what it is on paper, for a printer that makes
// all things smaller or larger.
type tagSheet struct {
	*pen.Figure
	zoom  float64
	units layers.Units
}

// Tags draws glass tags to print and cut out, with lines to measure and how to use them. Printed, a line of 100 mm came
// out measured mm long before; 100: not known to be off. Its error names a tag whose names or size are unfit.
func Tags(list []tag.Tag, measured float64, u layers.Units) (*pen.Figure, error) {
	s := tagSheet{pen.NewFigure("Glass tags to cut out", pen.PaperWidth), checkLine / measured, u}
	s.Desc = "Square codes with corner marks, patches of white, grey and black, and a scale; lines of 100 mm to measure."
	y := s.Heading("Glass tags", "Print at 100 %, on white paper.", "")
	y = s.level(pen.Margin, y+4)
	s.upright(s.Width-pen.Margin-14, y)
	foot := y + checkLine*s.zoom + 4
	x, row := pen.Margin, 0.0
	room := s.Width - pen.Margin - 18
	for _, t := range list {
		code, err := tag.NewCode(t)
		if err != nil {
			return nil, err
		}
		w, h := s.span(t)
		if x > pen.Margin && x+w > room {
			x, y, row = pen.Margin, y+row+tagGap, 0
		}
		s.tag(x, y, t, code)
		x, row = x+w+tagGap, max(row, h)
	}
	y = max(foot, y+row+tagGap) + 4
	for i, text := range tagSteps {
		y = s.Paragraph(pen.Margin, y, s.Width-2*pen.Margin, strconv.Itoa(i+1)+". "+text, pen.Usual)
	}
	s.Height = y + pen.Margin
	return s.Figure, nil
}

// tagSteps say how a tag is used.
var tagSteps = []string{
	"Measure both lines with a good ruler. If they are not 100 mm long, print again with --measured and the length you found, as in --measured 98.5mm.",
	"Cut along the thin line. Lay clear tape over the whole tag, matt if you have it: it will be wiped with the glass.",
	"Tape it flat to the outside of the pane, upright, the words on top, beside the bed or just below it, where no strip is read. Wipe the glass first.",
	"Each station has a tag of its own, which stays. Photograph the bed and the whole tag, sharp and without glare; the tag should be 150 pixels wide or more.",
	"panecore photo FILE then needs no marks: tank, station, scale, tilt and light are the tag's. The grey patch is the printer's guess and is not read.",
}

// span is the room that a tag takes, mm.
func (s *tagSheet) span(t tag.Tag) (w, h float64) {
	paper := tag.Paper(t.SizeMM * s.zoom)
	return paper.W, paper.H
}

// tag draws one within its room, whose upper left corner is given.
func (s *tagSheet) tag(x, y float64, t tag.Tag, code *tag.Code) {
	size := t.SizeMM * s.zoom
	w, h := s.span(t)
	name := t.Tank + " / " + t.Station
	s.Group("Tag of "+name, func() {
		s.Rect(x, y, w, h, tagPaper)
		s.Frame(x, y, w, h, pen.Stroke{Ink: pen.AsRead(palette.Color{R: 0x99, G: 0x99, B: 0x99}), Width: 0.1})
		s.Text(x+tag.PaperLeft, y+4, s.Fit(name, w-2*tag.PaperLeft, pen.Usual.Strong()), pen.Usual.Strong().InInk(tagInk))
		left, top := x+tag.PaperLeft+tag.Arm*size, y+tag.PaperAbove+tag.Arm*size
		s.marks(left, top, size)
		s.code(left, top, size, code)
		for _, patch := range []struct {
			box tag.Box
			ink pen.Ink
		}{{tag.White, tagPaper}, {tag.Grey, tagGrey}, {tag.Black, tagInk}} {
			b := patch.box
			s.Rect(left+b.X*size, top+b.Y*size, b.W*size, b.H*size, patch.ink)
		}
		s.scale(left+(1+tag.Arm)*size+1.5, top, t.SizeMM)
		s.Text(x+tag.PaperLeft, y+h-2, words.OnRuler(s.units, t.SizeMM)+" "+s.units.String()+" from mark to mark", pen.Small.InInk(tagInk))
	})
}

// marks draws the four corner marks.
func (s *tagSheet) marks(left, top, size float64) {
	arm := tag.Arm * size
	for _, c := range tag.Corners() {
		for _, d := range [][2]float64{{-1, -1}, {-1, 0}, {0, -1}, {0, 0}} {
			if tag.MarkBlack(d[0]+0.5, d[1]+0.5) {
				s.Rect(left+c[0]*size+d[0]*arm, top+c[1]*size+d[1]*arm, arm, arm, tagInk)
			}
		}
	}
}

// code draws the modules: runs of black, and equal runs below each other as one, which leaves fewest hairlines.
func (s *tagSheet) code(left, top, size float64, code *tag.Code) {
	module, at := tag.Module(code.Side)*size, tag.Origin(code.Side)*size
	above := map[[2]int]int{} // runs of the row above, and the row where they began
	for y := range code.Side + 1 {
		here := map[[2]int]int{}
		for _, run := range blackRuns(code, y) {
			here[run] = y
			if began, ok := above[run]; ok {
				here[run] = began
			}
		}
		for _, run := range blackRuns(code, y-1) {
			if _, goesOn := here[run]; !goesOn {
				from := above[run]
				s.Rect(left+at+float64(run[0])*module, top+at+float64(from)*module, float64(run[1]-run[0])*module, float64(y-from)*module, tagInk)
			}
		}
		above = here
	}
}

// blackRuns are the stretches of black in a row of modules, each from one up to another.
func blackRuns(code *tag.Code, y int) (list [][2]int) {
	for x := 0; x < code.Side; x++ {
		from := x
		for x < code.Side && code.Black(x, y) {
			x++
		}
		if x > from {
			list = append(list, [2]int{from, x})
		}
	}
	return list
}

// scale draws millimetres down the tag, from the upper marks on.
func (s *tagSheet) scale(x, top, sizeMM float64) {
	for mm := 0; float64(mm) <= sizeMM; mm++ {
		y, reach := top+float64(mm)*s.zoom, 2.0
		switch {
		case mm%10 == 0:
			reach = 4
			s.Text(x+4.5, y+0.36*pen.SmallSize, strconv.Itoa(mm), pen.Small.InInk(tagInk))
		case mm%5 == 0:
			reach = 3
		}
		s.Line(pen.Stroke{Ink: tagInk, Width: 0.25}, pen.At(x, y), pen.At(x+reach, y))
	}
	s.Line(pen.Stroke{Ink: tagInk, Width: 0.25}, pen.At(x, top), pen.At(x, top+math.Floor(sizeMM)*s.zoom))
}

// level draws the level line to measure and returns where the next thing stands.
func (s *tagSheet) level(x, y float64) float64 {
	length := checkLine * s.zoom
	s.checked(pen.At(x, y), pen.At(x+length, y), pen.At(0, 2))
	s.Text(x+length+2, y+0.36*pen.SmallSize, fmt.Sprintf("%g mm: measure it", checkLine), pen.Small.InInk(tagInk))
	return y + 6
}

// upright draws the other one.
func (s *tagSheet) upright(x, y float64) {
	length := checkLine * s.zoom
	s.checked(pen.At(x, y), pen.At(x, y+length), pen.At(2, 0))
	s.Text(x+2, y+length/2, fmt.Sprintf("%g mm", checkLine), pen.Small.InInk(tagInk))
}

// checked draws a line between two end marks, which reach to both sides of it.
func (s *tagSheet) checked(from, to, reach pen.Point) {
	thin := pen.Stroke{Ink: tagInk, Width: 0.25}
	s.Line(pen.Stroke{Ink: tagInk, Width: 0.25}, from, to)
	for _, end := range []pen.Point{from, to} {
		s.Line(thin, pen.At(end.X-reach.X, end.Y-reach.Y), pen.At(end.X+reach.X, end.Y+reach.Y))
	}
}
