package overlay

import (
	"image"
	"image/color"
	"math"

	"panecore/layers/photo/picture"
)

// Shrink scales a picture down so that its longer side is at most longest pixels. Each pixel is
// the mean over its area in linear light.
func Shrink(p *picture.Picture, longest int) *image.RGBA {
	scale := math.Min(1, float64(longest)/float64(max(p.Width, p.Height)))
	width := max(1, int(math.Round(float64(p.Width)*scale)))
	height := max(1, int(math.Round(float64(p.Height)*scale)))
	across, down := parts(p.Width, width), parts(p.Height, height)
	sums := make([][3]float32, width*height)
	row := make([]picture.Light, p.Width)
	for y, v := range down {
		p.Row(row, 0, y)
		for x, h := range across {
			spread(sums[v.at*width+h.at:], row[x], h, v, width)
		}
	}
	curve := newCurve()
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for i, sum := range sums {
		light := p.SRGB([3]float64{float64(sum[0]), float64(sum[1]), float64(sum[2])})
		img.SetRGBA(i%width, i/width, color.RGBA{curve.of(light[0]), curve.of(light[1]), curve.of(light[2]), 255})
	}
	return img
}

// part says where a pixel of a line goes in a shorter line: to pixel at and to the next one.
// here and next are the shares of those pixels that it fills.
type part struct {
	at         int
	here, next float32
}

func parts(from, to int) []part {
	list := make([]part, from)
	step := float64(to) / float64(from)
	for i := range list {
		start := float64(i) * step
		at := min(int(start), to-1)
		here := math.Min(step, float64(at+1)-start)
		list[i] = part{at, float32(here), float32(step - here)}
		if at == to-1 { // rounding may leave a rest
			list[i].here, list[i].next = float32(step), 0
		}
	}
	return list
}

// spread adds a pixel to the pixels that it falls into, at most four from sums[0] on.
func spread(sums [][3]float32, l picture.Light, h, v part, width int) {
	add := func(at int, share float32) {
		if share == 0 {
			return
		}
		share /= 65535
		for c, value := range l {
			sums[at][c] += share * float32(value)
		}
	}
	add(0, h.here*v.here)
	add(1, h.next*v.here)
	add(width, h.here*v.next)
	add(width+1, h.next*v.next)
}
