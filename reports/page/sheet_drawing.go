package page

import (
	"fmt"
	"math"
	"strconv"

	"panecore/palette"
)

// drawing is a picture on the recording sheet, at its true size.
type drawing struct {
	Title         string // what it is, for those who can't see it
	Width, Height millimetres
	Patches       []patch
	Paths         []outline
	Letters       []letters
}

// millimetres are written to a thousandth.
type millimetres float64

func (m millimetres) String() string {
	return strconv.FormatFloat(math.Round(float64(m)*1000)/1000+0, 'f', -1, 64) // + 0: no −0
}

type patch struct {
	X, Y, Width, Height millimetres
	Color               palette.Color
}

// outline is all lines of one class; the style sheet sets their width by it.
type outline struct{ Class, D string }

// letters is a text with its baseline at a place.
type letters struct {
	X, Y, Size millimetres
	Anchor     string // start, middle or end
	Class      string
	Text       string
}

func (d *drawing) line(class string, x1, y1, x2, y2 float64) {
	d.path(class, fmt.Sprintf("M%v %vL%v %v", millimetres(x1), millimetres(y1), millimetres(x2), millimetres(y2)))
}

// path adds path data to the lines of a class.
func (d *drawing) path(class, data string) {
	for i := range d.Paths {
		if d.Paths[i].Class == class {
			d.Paths[i].D += data
			return
		}
	}
	d.Paths = append(d.Paths, outline{class, data})
}

// box draws a rectangle's outline.
func (d *drawing) box(class string, x, y, w, h float64) {
	d.path(class, fmt.Sprintf("M%v %vh%vv%vh%vZ", millimetres(x), millimetres(y), millimetres(w), millimetres(h), millimetres(-w)))
}

// target draws a cross in a circle: its middle can be picked to the pixel.
func (d *drawing) target(x, y float64) {
	const r = targetRadius
	d.line("thin", x-r, y, x+r, y)
	d.line("thin", x, y-r, x, y+r)
	d.path("firm", fmt.Sprintf("M%v %va%[3]v %[3]v 0 1 0 %[4]v 0a%[3]v %[3]v 0 1 0 %[5]v 0Z",
		millimetres(x-r), millimetres(y), millimetres(r), millimetres(2*r), millimetres(-2*r)))
}

func (d *drawing) text(x, y, size float64, anchor, text string) {
	d.letter("", x, y, size, anchor, text)
}

func (d *drawing) boldText(x, y, size float64, anchor, text string) {
	d.letter("bold", x, y, size, anchor, text)
}

func (d *drawing) letter(class string, x, y, size float64, anchor, text string) {
	d.Letters = append(d.Letters, letters{millimetres(x), millimetres(y), millimetres(size), anchor, class, text})
}
