// Package testpictures reads figures back for tests, and has invented findings that several
// of them draw.
package testpictures

import (
	"math"
	"slices"

	"pgregory.net/rapid"

	"panecore/reports/figure/pen"
)

// Marks is a pen that keeps what was drawn, for tests to look at.
type Marks struct {
	Texts []Text
	Rects []Rect
	Lines []Line
	Areas [][]pen.Point
	Dots  []pen.Point

	Rasters []Raster
}

// Text is a text as it was set, with the box that its letters reach.
type Text struct {
	pen.Box
	Text string
	pen.Lettering
}

// Rect is a filled rectangle.
type Rect struct {
	pen.Box
	Ink pen.Ink
}

// Raster is a picture of pixels.
type Raster struct {
	pen.Box
	pen.Raster
}

// Line is a line through points.
type Line struct {
	Points []pen.Point
	pen.Stroke
}

// MarksOf draws a figure with a pen that keeps all.
func MarksOf(f *pen.Figure) *Marks {
	w := &Marks{}
	f.Play(&keeper{f, w})
	return w
}

type keeper struct {
	f *pen.Figure
	*Marks
}

func (k *keeper) Area(outline []pen.Point, _ pen.Ink) { k.Areas = append(k.Areas, outline) }

func (k *keeper) Rect(x, y, w, h float64, ink pen.Ink) {
	k.Rects = append(k.Rects, Rect{pen.Box{Left: x, Top: y, Right: x + w, Foot: y + h}, ink})
}

func (k *keeper) Lines(parts [][]pen.Point, s pen.Stroke) {
	for _, part := range parts {
		k.Marks.Lines = append(k.Marks.Lines, Line{part, s})
	}
}

func (k *keeper) Dots(centres []pen.Point, _ float64, _ pen.Ink) {
	k.Marks.Dots = append(k.Marks.Dots, centres...)
}

func (k *keeper) Raster(x, y, w, h float64, r pen.Raster) {
	k.Rasters = append(k.Rasters, Raster{pen.Box{Left: x, Top: y, Right: x + w, Foot: y + h}, r})
}

// Text keeps the box that the letters reach, from the tops of the tallest to the baseline
// and a part of what hangs below it: hanging letters may touch the tops of the next line
// no more than they do in a book.
func (k *keeper) Text(at pen.Point, text string, t pen.Lettering) {
	width := k.f.Length(text, t)
	switch t.Anchor {
	case pen.Centred:
		at.X -= width / 2
	case pen.UpToHere:
		at.X -= width
	}
	k.Texts = append(k.Texts, Text{pen.Box{Left: at.X, Top: at.Y - pen.Ascent*t.Size, Right: at.X + width, Foot: at.Y + pen.Descent*t.Size}, text, t})
}

func (k *keeper) Open(string) {}
func (k *keeper) Shut()       {}

// Overlap reports whether two boxes share more than a hair.
func Overlap(b, o pen.Box) bool {
	const hair = 0.05 // mm
	return b.Left < o.Right-hair && o.Left < b.Right-hair && b.Top < o.Foot-hair && o.Top < b.Foot-hair
}

// Clear fails where two texts of a figure overlap or one leaves it.
func Clear(t rapid.TB, f *pen.Figure) {
	t.Helper()
	texts := MarksOf(f).Texts
	for i, a := range texts {
		if a.Left < -0.01 || a.Top < -0.01 || a.Right > f.Width+0.01 || a.Foot > f.Height+0.01 {
			t.Errorf("%q at %v leaves the figure of %.1f x %.1f mm", a.Text, a.Box, f.Width, f.Height)
		}
		for _, b := range texts[:i] {
			if Overlap(a.Box, b.Box) {
				t.Errorf("%q at %v overlaps %q at %v", a.Text, a.Box, b.Text, b.Box)
			}
		}
	}
}

// HasDot reports whether a dot stands at a place.
func (w *Marks) HasDot(at pen.Point) bool {
	return slices.ContainsFunc(w.Dots, func(d pen.Point) bool { return math.Hypot(d.X-at.X, d.Y-at.Y) < 1e-6 })
}

// Passes reports whether a line has a corner at a place, or a dot stands there.
func (w *Marks) Passes(at pen.Point) bool {
	near := func(p pen.Point) bool { return math.Hypot(p.X-at.X, p.Y-at.Y) < 1e-6 }
	return w.HasDot(at) || slices.ContainsFunc(w.Lines, func(l Line) bool { return slices.ContainsFunc(l.Points, near) })
}

// HasDotBelow reports whether a dot stands at x, below y.
func (w *Marks) HasDotBelow(x, y float64) bool {
	return slices.ContainsFunc(w.Dots, func(d pen.Point) bool { return math.Abs(d.X-x) < 1e-6 && d.Y > y })
}

// Words are the texts of a figure in their order.
func (w *Marks) Words() (list []string) {
	for _, text := range w.Texts {
		list = append(list, text.Text)
	}
	return list
}
