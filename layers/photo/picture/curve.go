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

// ramp gives the light of 8-bit codes, which start at rampZero. It extends on both sides for
// colours of Y'CbCr beyond RGB, which are clipped without a branch.
var ramp = newRamp()

const rampZero, rampSize = 384, 1024

func newRamp() (table [rampSize]uint16) {
	for i := range table {
		code := min(max(i-rampZero, 0), 255)
		table[i] = uint16(math.Round(full * linear(float64(code)/255)))
	}
	return table
}

// lightOf is the light of an 8-bit code.
func lightOf(code uint8) uint16 { return ramp[rampZero+int(code)] }

// lightOfWord is the light of a 16-bit code.
func lightOfWord(code uint32) uint16 { return uint16(math.Round(full * linear(float64(code)/full))) }

// newLongRamp gives the light of 16-bit codes.
func newLongRamp() *[full + 1]uint16 {
	table := new([full + 1]uint16)
	for code := range table {
		table[code] = lightOfWord(uint32(code))
	}
	return table
}
