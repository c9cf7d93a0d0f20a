package testscene

import (
	"math"
	"math/rand/v2"

	"panecore/palette"
)

// rgb is a linear colour in the primaries of sRGB.
type rgb [3]float32

func (c rgb) times(f float32) rgb { return rgb{c[0] * f, c[1] * f, c[2] * f} }

func (c rgb) by(d rgb) rgb { return rgb{c[0] * d[0], c[1] * d[1], c[2] * d[2]} }

func (c rgb) plus(d rgb) rgb { return rgb{c[0] + d[0], c[1] + d[1], c[2] + d[2]} }

func (c rgb) toward(d rgb, t float32) rgb {
	return rgb{mix(c[0], d[0], t), mix(c[1], d[1], t), mix(c[2], d[2], t)}
}

func (c rgb) luma() float32 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

// grey is the grey value of stored, not linear, channels (ITU-R BT.601).
func (c rgb) grey() float32 { return 0.299*c[0] + 0.587*c[1] + 0.114*c[2] }

// linear undoes sRGB's transfer function (IEC 61966-2-1).
func linear(c palette.Color) rgb {
	return rgb{decode(c.R), decode(c.G), decode(c.B)}
}

func decode(v uint8) float32 {
	x := float64(v) / 255
	if x <= 0.04045 {
		return float32(x / 12.92)
	}
	return float32(math.Pow((x+0.055)/1.055, 2.4))
}

// encode is sRGB's transfer function, 0 to 1.
func encode(x float64) float64 {
	if x <= 0.0031308 {
		return 12.92 * max(x, 0)
	}
	return 1.055*math.Pow(x, 1/2.4) - 0.055
}

// asStored rounds a linear colour to eight bits of sRGB.
func asStored(c rgb) palette.Color {
	b := func(x float32) uint8 { return uint8(math.Round(255 * min(encode(float64(x)), 1))) }
	return palette.Color{R: b(c[0]), G: b(c[1]), B: b(c[2])}
}

func hex(s string) palette.Color {
	c, err := palette.ParseColor(s)
	if err != nil {
		panic(err) // only this package's own tables are read
	}
	return c
}

// between is a colour between two others.
func between(a, b palette.Color, t float64) palette.Color {
	m := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + (float64(y)-float64(x))*t)) }
	return palette.Color{R: m(a.R, b.R), G: m(a.G, b.G), B: m(a.B, b.B)}
}

// mistyped is a colour as a keeper would type it: 2 to 4 CIEDE2000 off.
func mistyped(c palette.Color, rng *rand.Rand) palette.Color {
	shift := func(v uint8) uint8 { return uint8(min(255, max(0, int(v)+rng.IntN(41)-20))) }
	for {
		d := palette.Color{R: shift(c.R), G: shift(c.G), B: shift(c.B)}
		if off := palette.Difference(c.Lab(), d.Lab()); off >= 2 && off <= 4 {
			return d
		}
	}
}
