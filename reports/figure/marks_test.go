package figure

import (
	"math"
	"slices"

	"pgregory.net/rapid"
)

// written is a pen that keeps what was drawn, for tests to look at.
type written struct {
	texts  []writtenText
	rects  []writtenRect
	lines  []writtenLine
	areas  [][]point
	dotted []point
}

type writtenText struct {
	box
	text string
	lettering
}

type writtenRect struct {
	box
	ink Ink
}

type writtenLine struct {
	points []point
	stroke
}

// marksOf draws a figure with a pen that keeps all.
func marksOf(f *Figure) *written {
	w := &written{}
	f.play(&keeper{f, w})
	return w
}

type keeper struct {
	f *Figure
	*written
}

func (k *keeper) area(outline []point, _ Ink) { k.areas = append(k.areas, outline) }

func (k *keeper) rect(x, y, w, h float64, ink Ink) {
	k.rects = append(k.rects, writtenRect{box{x, y, x + w, y + h}, ink})
}

func (k *keeper) lines(parts [][]point, s stroke) {
	for _, part := range parts {
		k.written.lines = append(k.written.lines, writtenLine{part, s})
	}
}

func (k *keeper) dots(centres []point, _ float64, _ Ink) { k.dotted = append(k.dotted, centres...) }

// text keeps the box that the letters reach, from the tops of the tallest to the baseline
// and a part of what hangs below it: hanging letters may touch the tops of the next line
// no more than they do in a book.
func (k *keeper) text(at point, text string, t lettering) {
	width := k.f.length(text, t)
	switch t.anchor {
	case centred:
		at.x -= width / 2
	case upToHere:
		at.x -= width
	}
	k.texts = append(k.texts, writtenText{box{at.x, at.y - ascent*t.size, at.x + width, at.y + descent*t.size}, text, t})
}

func (k *keeper) open(string) {}
func (k *keeper) shut()       {}

// overlap reports whether two boxes share more than a hair.
func overlap(b, o box) bool {
	const hair = 0.05 // mm
	return b.left < o.right-hair && o.left < b.right-hair && b.top < o.foot-hair && o.top < b.foot-hair
}

// clear fails where two texts of a figure overlap or one leaves it.
func clear(t rapid.TB, f *Figure) {
	t.Helper()
	texts := marksOf(f).texts
	for i, a := range texts {
		if a.left < -0.01 || a.top < -0.01 || a.right > f.Width+0.01 || a.foot > f.Height+0.01 {
			t.Errorf("%q at %v leaves the figure of %.1f x %.1f mm", a.text, a.box, f.Width, f.Height)
		}
		for _, b := range texts[:i] {
			if overlap(a.box, b.box) {
				t.Errorf("%q at %v overlaps %q at %v", a.text, a.box, b.text, b.box)
			}
		}
	}
}

// hasDot reports whether a dot stands at a place.
func (w *written) hasDot(at point) bool {
	return slices.ContainsFunc(w.dotted, func(d point) bool { return math.Hypot(d.x-at.x, d.y-at.y) < 1e-6 })
}

// passes reports whether a line has a corner at a place, or a dot stands there.
func (w *written) passes(at point) bool {
	near := func(p point) bool { return math.Hypot(p.x-at.x, p.y-at.y) < 1e-6 }
	return w.hasDot(at) || slices.ContainsFunc(w.lines, func(l writtenLine) bool { return slices.ContainsFunc(l.points, near) })
}

// hasDotBelow reports whether a dot stands at x, below y.
func (w *written) hasDotBelow(x, y float64) bool {
	return slices.ContainsFunc(w.dotted, func(d point) bool { return math.Abs(d.x-x) < 1e-6 && d.y > y })
}

// words are the texts of a figure in their order.
func (w *written) words() (list []string) {
	for _, text := range w.texts {
		list = append(list, text.text)
	}
	return list
}
