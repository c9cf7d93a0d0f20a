package pen

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
)

// Raster is a picture of pixels within a figure: as it is, or, in an SVG that a page shows, by its address. It covers its
// box whole: what reaches over the sides is cut off alike on both.
type Raster struct {
	Image   image.Image // nil: by its address
	Address string
}

// rasterQuality is that of pixels in SVG and PDF, JPEG, of 100 (assumption: grains without visible blocks).
const rasterQuality = 80

// cropped are the bounds of the middle part of a picture that has a box's proportions.
func cropped(b image.Rectangle, w, h float64) image.Rectangle {
	if over := float64(b.Dx()) - float64(b.Dy())*w/h; over > 0 {
		b.Min.X += int(over / 2)
		b.Max.X -= int(over / 2)
	} else if over := float64(b.Dy()) - float64(b.Dx())*h/w; over > 0 {
		b.Min.Y += int(over / 2)
		b.Max.Y -= int(over / 2)
	}
	return b
}

// part is a part of a picture, the pixels at whose right side go on for some more.
type part struct {
	image.Image
	bounds image.Rectangle
	more   int
}

func (p part) Bounds() image.Rectangle {
	b := p.bounds
	b.Max.X += p.more
	return b
}

func (p part) At(x, y int) color.Color { return p.Image.At(min(x, p.bounds.Max.X-1), y) }

func (p part) ColorModel() color.Model { return color.RGBAModel }

// packed is the part of a raster that its box shows, as a JPEG. Writing to a buffer can't fail.
func (r Raster) packed(w, h float64) []byte {
	return part{r.Image, cropped(r.Image.Bounds(), w, h), 0}.packed()
}

func (p part) packed() []byte {
	var file bytes.Buffer
	jpeg.Encode(&file, p, &jpeg.Options{Quality: rasterQuality})
	return file.Bytes()
}
