package overlay

import (
	"image"
	"image/color"
	"math"

	"panecore/layers/photo/picture"
	"panecore/palette"
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

// curve turns linear light into codes of eight bits as [palette.Linear.Color] does, by tables,
// since a picture has millions of pixels.
type curve struct {
	from [256]float64 // least light of each code
	code [steps]uint8 // code of the least light of each step
}

// steps is the number of steps of light from 0 to 1. None holds more than four codes.
const steps = 1024

func newCurve() *curve {
	c := new(curve)
	for code := range c.from[1:] {
		low, high := c.from[code], 1.0
		for middle := (low + high) / 2; low < middle && middle < high; middle = (low + high) / 2 {
			if grey := palette.Linear([3]float64{middle}).Color(); int(grey.R) > code {
				high = middle
			} else {
				low = middle
			}
		}
		c.from[code+1] = high
	}
	code := uint8(0)
	for i := range c.code {
		code = c.up(code, float64(i)/steps)
		c.code[i] = code
	}
	return c
}

// up is the code of light, which is at least code.
func (c *curve) up(code uint8, light float64) uint8 {
	for code < 255 && light >= c.from[code+1] {
		code++
	}
	return code
}

func (c *curve) of(light float64) uint8 {
	switch {
	case light <= 0:
		return 0
	case light >= 1:
		return 255
	}
	return c.up(c.code[int(light*steps)], light)
}
