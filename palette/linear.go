package palette

import (
	"math"

	"github.com/lucasb-eyer/go-colorful"
)

// Linear is a colour in linear light, sRGB primaries, white at 1. Values may lie outside 0 to 1 after
// a photo's light was corrected.
type Linear [3]float64

// Linear decodes the colour's sRGB values.
func (c Color) Linear() Linear {
	r, g, b := colorful.Color{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}.LinearRgb()
	return Linear{r, g, b}
}

// Lab converts the light to CIE L*a*b* (D65).
func (l Linear) Lab() Lab {
	x, y, z := colorful.LinearRgbToXyz(l[0], l[1], l[2])
	lightness, a, b := colorful.XyzToLab(x, y, z)
	return Lab{100 * lightness, 100 * a, 100 * b}
}

// Luminance is the light's relative luminance Y, white at 1 (IEC 61966-2-1, second row of
// go-colorful's matrix).
func (l Linear) Luminance() float64 {
	return 0.2126390*l[0] + 0.7151687*l[1] + 0.0721923*l[2]
}

// Lightness is the L* of a relative luminance (CIE 15).
func Lightness(y float64) float64 {
	if y <= 216.0/24389 {
		return 24389.0 / 27 * y
	}
	return 116*math.Cbrt(y) - 16
}

// Color is the nearest eight-bit colour; what sRGB can't show is clipped.
func (l Linear) Color() Color {
	r, g, b := colorful.LinearRgb(l[0], l[1], l[2]).Clamped().RGB255()
	return Color{r, g, b}
}

// Linear converts CIE L*a*b* (D65) to linear light.
func (l Lab) Linear() Linear {
	x, y, z := colorful.LabToXyz(l.L/100, l.A/100, l.B/100)
	r, g, b := colorful.XyzToLinearRgb(x, y, z)
	return Linear{r, g, b}
}
