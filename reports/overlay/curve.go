package overlay

import "panecore/palette"

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
