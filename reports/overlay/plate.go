package overlay

import (
	"image"
	"image/color"
	"slices"

	"panecore/palette"
)

// Sizes of a plate, pixels (assumptions).
const (
	plateHeight = 25
	platePitch  = plateHeight + 3
	plateInset  = 6
	baseline    = 18 // below its top
	swatchSize  = 15
	swatchGap   = 6
)

// plate is a line of text on a dark ground.
type plate struct {
	text   string
	swatch *palette.Color // shown before the text; nil: none
	width  int
}

func (v *canvas) plate(text string) plate {
	return plate{text: text, width: v.width(text) + 2*plateInset}
}

// set draws a plate with its upper left corner at a place.
func (v *canvas) set(p plate, at image.Point) {
	r := image.Rect(0, 0, p.width, plateHeight).Add(at)
	fill(v.img, r, inkPlate)
	x := at.X + plateInset
	if c := p.swatch; c != nil {
		frame := image.Rect(x, at.Y+(plateHeight-swatchSize)/2, x+swatchSize, at.Y+(plateHeight+swatchSize)/2)
		fill(v.img, frame, inkText)
		fill(v.img, frame.Inset(1), color.NRGBA{c.R, c.G, c.B, 0xff})
		x += swatchSize + swatchGap
	}
	v.write(v.img, x, at.Y+baseline, p.text)
	v.taken = append(v.taken, r)
}

// put sets a plate with its left side's middle at a place, or as near below or above it as
// there is room. A plate without room is left out.
func (v *canvas) put(p plate, x, y int) {
	all := v.img.Rect
	x = min(max(x, canvasEdge), all.Dx()-p.width-canvasEdge)
	y = min(max(y-plateHeight/2, canvasEdge), all.Dy()-plateHeight-canvasEdge)
	for off := range all.Dy() {
		for _, at := range []image.Point{{x, y + off}, {x, y - off}} {
			r := image.Rect(0, 0, p.width, plateHeight).Add(at)
			if r.In(all) && !v.overlaps(r) {
				v.set(p, at)
				return
			}
		}
	}
}

func (v *canvas) overlaps(r image.Rectangle) bool { return slices.ContainsFunc(v.taken, r.Overlaps) }
