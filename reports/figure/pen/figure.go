// Package pen writes figures as files. A [Figure] is a list of marks in millimetres, which
// WriteSVG, WritePNG and WritePDF write alike; the same marks give the same bytes. The package
// also holds what all pictures share: inks, letters, the grain of bands, rulers and labels
// that keep apart.
package pen

import (
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// Figure is a picture: marks in drawing order, in millimetres from its upper left corner, x
// to the right and y down. It is for one goroutine.
type Figure struct {
	Width, Height float64 // mm
	Title         string  // what it shows, in a few words
	Desc          string  // its content in words, for those who can't see it

	marks []func(Pen)
	faces [2]font.Face // regular, bold; for measuring
}

// Pen draws marks in one format.
type Pen interface {
	Area(outline []Point, ink Ink)
	Rect(x, y, w, h float64, ink Ink)
	Lines(parts [][]Point, s Stroke) // each part on its own
	Dots(centres []Point, radius float64, ink Ink)
	Raster(x, y, w, h float64, r Raster)
	Text(at Point, text string, t Lettering)
	Open(about string) // begins a group of marks; about may be empty
	Shut()             // ends it
}

// Point is a place in a figure, mm.
type Point struct{ X, Y float64 }

// At is the point at x and y, mm.
func At(x, y float64) Point { return Point{x, y} }

// Stroke is how a line is drawn: its width, and the lengths of its dashes and gaps, mm, zero
// for an unbroken line.
type Stroke struct {
	Ink       Ink
	Width     float64
	Dash, Gap float64
}

// Sizes of figures, mm (assumptions).
const (
	Margin     = 4.0
	PaperWidth = 170.0 // the widest that fits A4 and Letter with their margins
)

// NewFigure is an empty figure of a width, mm.
func NewFigure(title string, width float64) *Figure {
	return &Figure{Title: title, Width: width, faces: [2]font.Face{
		NewFace(goregular.TTF, emPixels, font.HintingNone), NewFace(gobold.TTF, emPixels, font.HintingNone),
	}}
}

// emPixels is the size at which letters are measured, pixels per em.
const emPixels = 1000

// Length is the width of a text, mm.
func (f *Figure) Length(text string, t Lettering) float64 {
	face := f.faces[0]
	if t.Bold {
		face = f.faces[1]
	}
	return float64(font.MeasureString(face, text)) / 64 / emPixels * t.Size
}

// Add adds a mark, which draws itself with a pen.
func (f *Figure) Add(mark func(Pen)) { f.marks = append(f.marks, mark) }

// Area fills an outline, which closes by itself.
func (f *Figure) Area(ink Ink, outline ...Point) {
	f.Add(func(p Pen) { p.Area(outline, ink) })
}

// Rect fills a rectangle, given by its upper left corner, width and height, mm.
func (f *Figure) Rect(x, y, w, h float64, ink Ink) {
	f.Add(func(p Pen) { p.Rect(x, y, w, h, ink) })
}

// Line draws a line through points.
func (f *Figure) Line(s Stroke, points ...Point) { f.Lines(s, points) }

// Lines draws lines that look alike as one mark, which keeps the file smaller than a mark
// for each.
func (f *Figure) Lines(s Stroke, parts ...[]Point) {
	if len(parts) > 0 {
		f.Add(func(p Pen) { p.Lines(parts, s) })
	}
}

// Frame draws a rectangle's outline.
func (f *Figure) Frame(x, y, w, h float64, s Stroke) {
	f.Line(s, Point{x, y}, Point{x + w, y}, Point{x + w, y + h}, Point{x, y + h}, Point{x, y})
}

// Dots draws filled circles of a radius, mm.
func (f *Figure) Dots(ink Ink, radius float64, centres ...Point) {
	f.Add(func(p Pen) { p.Dots(centres, radius, ink) })
}

// Raster shows a picture of pixels in a box, given by its upper left corner, width and height, mm.
func (f *Figure) Raster(x, y, w, h float64, r Raster) {
	f.Add(func(p Pen) { p.Raster(x, y, w, h, r) })
}

// Text sets a line of text with its baseline at a place.
func (f *Figure) Text(x, y float64, text string, t Lettering) {
	if text = printable(text); text != "" {
		f.Add(func(p Pen) { p.Text(Point{x, y}, text, t) })
	}
}

// Group draws the marks that show one thing, named in a few words.
func (f *Figure) Group(about string, marks func()) {
	f.Add(func(p Pen) { p.Open(printable(about)) })
	marks()
	f.Add(Pen.Shut)
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

// Circle is the outline of a circle as a closed polygon.
func Circle(centre Point, radius float64, corners int) []Point {
	outline := make([]Point, corners+1)
	for i := range outline {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%corners) / float64(corners))
		outline[i] = Point{centre.X + radius*cos, centre.Y + radius*sin}
	}
	return outline
}
