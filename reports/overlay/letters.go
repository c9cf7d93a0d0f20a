package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"

	"panecore/reports/figure/pen"
)

// The inks. Light ones lie on a dark halo or plate, so that they stand out from pale sand and
// from black mud.
var (
	inkLine   = color.NRGBA{0xff, 0xf8, 0xe7, 0xff}
	inkOxic   = color.NRGBA{0x4f, 0xe3, 0xd8, 0xff}
	inkRuler  = color.NRGBA{0xff, 0xc8, 0x57, 0xff}
	inkHalo   = color.NRGBA{0x00, 0x00, 0x00, 0xa8}
	inkPlate  = color.NRGBA{0x12, 0x14, 0x16, 0xe0}
	inkText   = color.NRGBA{0xf6, 0xf2, 0xea, 0xff}
	inkHatch  = color.NRGBA{0xd8, 0xd8, 0xd8, 0xd8}
	inkMargin = color.NRGBA{0x22, 0x25, 0x28, 0xff}
)

// Sizes on the screen, pixels (assumptions: readable at arm's length).
const (
	textSize = 17
	halo     = 1.4 // on either side of a line
)

// letters write onto a picture.
type letters struct {
	face font.Face
}

func newLetters() letters { return letters{pen.NewFace(goregular.TTF, textSize, font.HintingFull)} }

// width is the width of a text, whole pixels.
func (l letters) width(text string) int { return font.MeasureString(l.face, text).Ceil() }

// write sets a text from x on, with its baseline at y.
func (l letters) write(img draw.Image, x, y int, text string) {
	d := font.Drawer{Dst: img, Src: image.NewUniform(inkText), Face: l.face, Dot: fixed.P(x, y)}
	d.DrawString(text)
}

// spot is a place on the canvas, pixels.
type spot struct{ x, y float64 }

func (s spot) plus(dx, dy float64) spot { return spot{s.x + dx, s.y + dy} }

// stroke draws a line through spots on a dark halo.
func stroke(img draw.Image, line []spot, width float64, ink color.NRGBA) {
	cover(img, line, width/2+halo, inkHalo)
	cover(img, line, width/2, ink)
}

// cover colours everything within a radius of a line once, even where the line crosses itself.
func cover(img draw.Image, line []spot, radius float64, ink color.NRGBA) {
	bounds := around(line, radius).Intersect(img.Bounds())
	mask := image.NewAlpha(bounds)
	for i := range line {
		from := line[max(0, i-1)]
		near := around([]spot{from, line[i]}, radius).Intersect(bounds)
		for y := near.Min.Y; y < near.Max.Y; y++ {
			for x := near.Min.X; x < near.Max.X; x++ {
				off := distance(spot{float64(x) + 0.5, float64(y) + 0.5}, from, line[i])
				alpha := uint8(255 * min(1, max(0, radius+0.5-off)))
				if at := mask.PixOffset(x, y); alpha > mask.Pix[at] {
					mask.Pix[at] = alpha
				}
			}
		}
	}
	draw.DrawMask(img, bounds, image.NewUniform(ink), image.Point{}, mask, bounds.Min, draw.Over)
}

// around is the smallest rectangle of whole pixels around all within a radius of spots.
func around(spots []spot, radius float64) image.Rectangle {
	low, high := spot{math.Inf(1), math.Inf(1)}, spot{math.Inf(-1), math.Inf(-1)}
	for _, s := range spots {
		low.x, low.y = min(low.x, s.x), min(low.y, s.y)
		high.x, high.y = max(high.x, s.x), max(high.y, s.y)
	}
	if len(spots) == 0 {
		return image.Rectangle{}
	}
	reach := radius + 1
	return image.Rect(int(math.Floor(low.x-reach)), int(math.Floor(low.y-reach)), int(math.Ceil(high.x+reach)), int(math.Ceil(high.y+reach)))
}

// distance is the distance of a spot from the line between two others.
func distance(p, a, b spot) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	t := 0.0
	if square := dx*dx + dy*dy; square > 0 {
		t = min(1, max(0, ((p.x-a.x)*dx+(p.y-a.y)*dy)/square))
	}
	return math.Hypot(p.x-a.x-t*dx, p.y-a.y-t*dy)
}

// fill paints a rectangle over what is there.
func fill(img draw.Image, r image.Rectangle, ink color.NRGBA) {
	draw.Draw(img, r, image.NewUniform(ink), image.Point{}, draw.Over)
}

// dashed cuts a line into dashes, each along its bends.
func dashed(line []spot) (list [][]spot) {
	const on, off = 9.0, 7.0 // pixels
	left, drawn := on, true
	dash := []spot{line[0]}
	for i := 1; i < len(line); i++ {
		at, to := line[i-1], line[i]
		for {
			rest := math.Hypot(to.x-at.x, to.y-at.y)
			if rest < left {
				left -= rest
				dash = append(dash, to)
				break
			}
			at = at.plus(left/rest*(to.x-at.x), left/rest*(to.y-at.y))
			if drawn {
				list, left = append(list, append(dash, at)), off
			} else {
				left = on
			}
			drawn, dash = !drawn, []spot{at}
		}
	}
	if drawn && len(dash) > 1 {
		list = append(list, dash)
	}
	return list
}
