package figure

import (
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// Figure is a picture: marks in the order in which they are drawn, in millimetres from
// its upper left corner, x to the right and y down. It is for one goroutine.
type Figure struct {
	Width, Height float64 // mm
	Title         string  // what it shows, in a few words
	Desc          string  // what is to be seen in it, for those who don't see it

	marks []func(pen)
	faces [2]font.Face // regular, bold; for measuring, 1000 pixels an em
}

// pen draws marks in one format.
type pen interface {
	area(outline []point, ink Ink)
	rect(x, y, w, h float64, ink Ink)
	lines(parts [][]point, s stroke) // each part by itself
	dots(centres []point, radius float64, ink Ink)
	text(at point, text string, t lettering)
	open(about string) // begins a group of marks
	shut()
}

// point is a place in a figure, mm.
type point struct{ x, y float64 }

// stroke is how a line is drawn: its width and the lengths of its dashes and of the gaps
// between them, mm, zero for an unbroken line.
type stroke struct {
	ink       Ink
	width     float64
	dash, gap float64
}

// Measures of figures, mm (assumptions).
const (
	margin    = 4.0
	pageWidth = 170.0 // the widest that fits A4 and Letter with their margins
)

// newFigure is an empty figure of a width.
func newFigure(title string, width float64) *Figure {
	return &Figure{Title: title, Width: width, faces: [2]font.Face{newFace(goregular.TTF, emPixels), newFace(gobold.TTF, emPixels)}}
}

// emPixels is the size that letters are measured at.
const emPixels = 1000

// length is how wide a text is set, mm.
func (f *Figure) length(text string, t lettering) float64 {
	face := f.faces[0]
	if t.bold {
		face = f.faces[1]
	}
	return float64(font.MeasureString(face, text)) / 64 / emPixels * t.size
}

func (f *Figure) draw(mark func(pen)) { f.marks = append(f.marks, mark) }

func (f *Figure) area(ink Ink, outline ...point) {
	f.draw(func(p pen) { p.area(outline, ink) })
}

func (f *Figure) rect(x, y, w, h float64, ink Ink) {
	f.draw(func(p pen) { p.rect(x, y, w, h, ink) })
}

func (f *Figure) line(s stroke, points ...point) { f.lines(s, points) }

// lines draws lines that belong together; where many are drawn alike, they take less
// room in a file than one by one.
func (f *Figure) lines(s stroke, parts ...[]point) {
	if len(parts) > 0 {
		f.draw(func(p pen) { p.lines(parts, s) })
	}
}

// frame draws a rectangle's outline.
func (f *Figure) frame(x, y, w, h float64, s stroke) {
	f.line(s, point{x, y}, point{x + w, y}, point{x + w, y + h}, point{x, y + h}, point{x, y})
}

func (f *Figure) dots(ink Ink, radius float64, centres ...point) {
	f.draw(func(p pen) { p.dots(centres, radius, ink) })
}

// text sets a line of text with its baseline at a place.
func (f *Figure) text(x, y float64, text string, t lettering) {
	if text = printable(text); text != "" {
		f.draw(func(p pen) { p.text(point{x, y}, text, t) })
	}
}

// group draws marks that belong together and are about one thing.
func (f *Figure) group(about string, marks func()) {
	f.draw(func(p pen) { p.open(printable(about)) })
	marks()
	f.draw(func(p pen) { p.shut() })
}

// paragraph sets a text in lines of at most width from a first baseline on, and returns
// the baseline behind the last.
func (f *Figure) paragraph(x, y, width float64, text string, t lettering) float64 {
	for _, line := range f.wrap(text, width, t) {
		f.text(x, y, line, t)
		y += leading * t.size
	}
	return y
}

// play draws the marks with a pen.
func (f *Figure) play(p pen) {
	for _, mark := range f.marks {
		mark(p)
	}
}

// extremes are the highest and the lowest place of a line.
func extremes(line []point) [2]float64 {
	ends := [2]float64{line[0].y, line[0].y}
	for _, p := range line {
		ends[0], ends[1] = min(ends[0], p.y), max(ends[1], p.y)
	}
	return ends
}
