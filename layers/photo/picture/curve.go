package picture

import "math"

// Linear is the light, 0 to 1, of an 8-bit sRGB code (IEC 61966-2-1).
func Linear(code uint8) float64 { return linear(float64(code) / 255) }

func linear(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// Encoded is the 8-bit sRGB code of light of 0 to 1; what lies outside is cut off.
func Encoded(light float64) uint8 {
	v := 12.92 * light
	if light > 0.0031308 {
		v = 1.055*math.Pow(light, 1/2.4) - 0.055
	}
	return uint8(math.Round(255 * min(max(v, 0), 1)))
}

// full is the light of the whitest code.
const full = 65535

// ramp gives the light of 8-bit codes, shifted up by rampZero. It goes on on both sides, where
// colours of Y'CbCr lie that RGB does not hold: they are cut off without a branch.
var ramp = newRamp()

const rampZero, rampSize = 384, 1024

func newRamp() (table [rampSize]uint16) {
	for i := range table {
		code := min(max(i-rampZero, 0), 255)
		table[i] = uint16(math.Round(full * Linear(uint8(code))))
	}
	return table
}

// lightOf is the light of an 8-bit code.
func lightOf(code uint8) uint16 { return ramp[rampZero+int(code)] }

// newLongRamp gives the light of 16-bit codes.
func newLongRamp() *[full + 1]uint16 {
	table := new([full + 1]uint16)
	for code := range table {
		table[code] = uint16(math.Round(full * linear(float64(code)/full)))
	}
	return table
}
