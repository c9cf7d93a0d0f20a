package picture

import "math"

// linear is the light of an sRGB value, both 0 to 1 (IEC 61966-2-1).
func linear(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// full is the light of white.
const full = 65535

// A curve is the light of a value, both 0 to 1; nil: that of sRGB.
type curve func(v float64) float64

func (c curve) light(v float64) uint16 {
	if c == nil {
		c = linear
	}
	return uint16(math.Round(full * c(v)))
}

// curves are those of red, green and blue.
type curves [3]curve

// A ramp gives the light of 8-bit codes, which start at rampZero. It extends on both sides for
// colours of Y'CbCr beyond RGB, which are clipped without a branch.
type ramp [rampSize]uint16

const rampZero, rampSize = 384, 1024

func newRamp(c curve) *ramp {
	table := new(ramp)
	for i := range table {
		code := min(max(i-rampZero, 0), 255)
		table[i] = c.light(float64(code) / 255)
	}
	return table
}

// sRGBRamp is the usual one.
var sRGBRamp = newRamp(nil)

// ramps are those of red, green and blue.
type ramps [3]*ramp

func (c curves) ramps() (r ramps) {
	for i := range r {
		if r[i] = sRGBRamp; c[i] != nil {
			r[i] = newRamp(c[i])
		}
	}
	return r
}

// light is that of 8-bit codes.
func (r ramps) light(red, green, blue uint8) Light {
	return Light{r[0][rampZero+int(red)], r[1][rampZero+int(green)], r[2][rampZero+int(blue)]}
}

// A longRamp gives the light of 16-bit codes.
type longRamp [full + 1]uint16

func newLongRamp(c curve) *longRamp {
	table := new(longRamp)
	for code := range table {
		table[code] = c.light(float64(code) / full)
	}
	return table
}

func (c curves) longRamps() (r [3]*longRamp) {
	for i := range r {
		r[i] = r[0]
		if i == 0 || c[i] != nil {
			r[i] = newLongRamp(c[i])
		}
	}
	return r
}
