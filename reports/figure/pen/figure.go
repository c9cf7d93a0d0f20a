package pen

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

	marks []func(Pen)
	faces [2]font.Face // regular, bold; for measuring, 1000 pixels an em
}

// Pen draws marks in one format.
type Pen interface {
	Area(outline []Point, ink Ink)
	Rect(x, y, w, h float64, ink Ink)
	Lines(parts [][]Point, s Stroke) // each part by itself
	Dots(centres []Point, radius float64, ink Ink)
	Text(at Point, text string, t Lettering)
	Open(about string) // begins a group of marks
	Shut()
}

// Point is a place in a figure, mm.
type Point struct{ X, Y float64 }

// At is the point at x and y, mm.
func At(x, y float64) Point { return Point{x, y} }

// Stroke is how a line is drawn: its width and the lengths of its dashes and of the gaps
// between them, mm, zero for an unbroken line.
type Stroke struct {
	Ink       Ink
	Width     float64
	Dash, Gap float64
}

// Measures of figures, mm (assumptions).
const (
	Margin    = 4.0
	PageWidth = 170.0 // the widest that fits A4 and Letter with their margins
)

// NewFigure is an empty figure of a width.
func NewFigure(title string, width float64) *Figure {
	return &Figure{Title: title, Width: width, faces: [2]font.Face{newFace(goregular.TTF, emPixels), newFace(gobold.TTF, emPixels)}}
}

// emPixels is the size that letters are measured at.
const emPixels = 1000

// Length is how wide a text is set, mm.
func (f *Figure) Length(text string, t Lettering) float64 {
	face := f.faces[0]
	if t.Bold {
		face = f.faces[1]
	}
	return float64(font.MeasureString(face, text)) / 64 / emPixels * t.Size
}

// Draw adds a mark, which draws itself with a pen.
func (f *Figure) Draw(mark func(Pen)) { f.marks = append(f.marks, mark) }

// Area fills an outline, which closes by itself.
func (f *Figure) Area(ink Ink, outline ...Point) {
	f.Draw(func(p Pen) { p.Area(outline, ink) })
}

// Rect fills a rectangle by its upper left corner, its width and its height, mm.
func (f *Figure) Rect(x, y, w, h float64, ink Ink) {
	f.Draw(func(p Pen) { p.Rect(x, y, w, h, ink) })
}

// Line draws a line through points.
func (f *Figure) Line(s Stroke, points ...Point) { f.Lines(s, points) }

// Lines draws lines that belong together; where many are drawn alike, they take less
// room in a file than one by one.
func (f *Figure) Lines(s Stroke, parts ...[]Point) {
	if len(parts) > 0 {
		f.Draw(func(p Pen) { p.Lines(parts, s) })
	}
}

// Frame draws a rectangle's outline.
func (f *Figure) Frame(x, y, w, h float64, s Stroke) {
	f.Line(s, Point{x, y}, Point{x + w, y}, Point{x + w, y + h}, Point{x, y + h}, Point{x, y})
}

// Dots draws filled circles of a radius, mm.
func (f *Figure) Dots(ink Ink, radius float64, centres ...Point) {
	f.Draw(func(p Pen) { p.Dots(centres, radius, ink) })
}

// Text sets a line of text with its baseline at a place.
func (f *Figure) Text(x, y float64, text string, t Lettering) {
	if text = printable(text); text != "" {
		f.Draw(func(p Pen) { p.Text(Point{x, y}, text, t) })
	}
}

// Group draws marks that belong together and are about one thing.
func (f *Figure) Group(about string, marks func()) {
	f.Draw(func(p Pen) { p.Open(printable(about)) })
	marks()
	f.Draw(func(p Pen) { p.Shut() })
}

// Paragraph sets a text in lines of at most width from a first baseline on, and returns
// the baseline behind the last.
func (f *Figure) Paragraph(x, y, width float64, text string, t Lettering) float64 {
	for _, line := range f.Wrap(text, width, t) {
		f.Text(x, y, line, t)
		y += Leading * t.Size
	}
	return y
}

// Play draws the marks with a pen.
func (f *Figure) Play(p Pen) {
	for _, mark := range f.marks {
		mark(p)
	}
}

// Extremes are the highest and the lowest place of a line.
func Extremes(line []Point) [2]float64 {
	ends := [2]float64{line[0].Y, line[0].Y}
	for _, p := range line {
		ends[0], ends[1] = min(ends[0], p.Y), max(ends[1], p.Y)
	}
	return ends
}
