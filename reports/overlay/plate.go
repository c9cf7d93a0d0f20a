package overlay

import (
	"image"
	"image/color"

	"panecore/palette"
)

// A plate's measures, pixels.
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

func (s *sheet) plate(text string) plate {
	return plate{text: text, width: s.width(text) + 2*plateInset}
}

// set draws a plate with its upper left corner at a place.
func (s *sheet) set(p plate, at image.Point) {
	r := image.Rect(0, 0, p.width, plateHeight).Add(at)
	fill(s.img, r, inkPlate)
	x := at.X + plateInset
	if c := p.swatch; c != nil {
		frame := image.Rect(x, at.Y+(plateHeight-swatchSize)/2, x+swatchSize, at.Y+(plateHeight+swatchSize)/2)
		fill(s.img, frame, inkText)
		fill(s.img, frame.Inset(1), color.NRGBA{c.R, c.G, c.B, 0xff})
		x += swatchSize + swatchGap
	}
	s.write(s.img, x, at.Y+baseline, p.text)
	s.taken = append(s.taken, r)
}

// put sets a plate with its left middle at a place, or as near below or above it as
// there is room; one that has none is left out.
func (s *sheet) put(p plate, x, y int) {
	sheet := s.img.Rect
	x = min(max(x, sheetEdge), sheet.Dx()-p.width-sheetEdge)
	y = min(max(y-plateHeight/2, sheetEdge), sheet.Dy()-plateHeight-sheetEdge)
	for off := range sheet.Dy() {
		for _, at := range []image.Point{{x, y + off}, {x, y - off}} {
			r := image.Rect(0, 0, p.width, plateHeight).Add(at)
			if r.In(sheet) && !s.overlaps(r) {
				s.set(p, at)
				return
			}
		}
	}
}

func (s *sheet) overlaps(r image.Rectangle) bool {
	for _, taken := range s.taken {
		if r.Overlaps(taken) {
			return true
		}
	}
	return false
}
