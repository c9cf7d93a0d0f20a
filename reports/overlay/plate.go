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

// apart moves places of a line, in their order, until they are pitch from each other and
// between low and high, by the least sum of squares; there must be room for them. It is a
// monotone regression of the places less pitch times their number, by pooling those that
// are out of order (Ayer et al. 1955).
func apart(wanted []float64, pitch, low, high float64) []float64 {
	type pool struct{ sum, count float64 }
	var pools []pool
	mean := func(i int) float64 { return pools[i].sum / pools[i].count }
	for i, w := range wanted {
		pools = append(pools, pool{w - float64(i)*pitch, 1})
		for n := len(pools) - 1; n > 0 && mean(n-1) > mean(n); n-- {
			pools[n-1].sum += pools[n].sum
			pools[n-1].count += pools[n].count
			pools = pools[:n]
		}
	}
	high -= float64(len(wanted)-1) * pitch
	var places []float64
	for i, p := range pools {
		at := min(max(mean(i), low), high)
		for range int(p.count) {
			places = append(places, at+float64(len(places))*pitch)
		}
	}
	return places
}
