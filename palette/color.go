package palette

import (
	"encoding/hex"
	"fmt"

	"github.com/lucasb-eyer/go-colorful"
)

// Color is a colour as it is seen and stored: eight bits a channel, sRGB.
type Color struct{ R, G, B uint8 }

// Lab is a colour in CIE L*a*b* under D65, on the usual scale (L* 0 to 100).
type Lab struct{ L, A, B float64 }

// ParseColor reads '#' and six hexadecimal digits.
func ParseColor(s string) (Color, error) {
	var c Color
	if len(s) != 7 || s[0] != '#' {
		return c, fmt.Errorf("found colour %q, want '#' and six hexadecimal digits, as in #8b5e3c", s)
	}
	channels := [3]*uint8{&c.R, &c.G, &c.B}
	for i, channel := range channels {
		high, ok1 := hexDigit(s[1+2*i])
		low, ok2 := hexDigit(s[2+2*i])
		if !ok1 || !ok2 {
			return Color{}, fmt.Errorf("found colour %q, want '#' and six hexadecimal digits, as in #8b5e3c", s)
		}
		*channel = high<<4 | low
	}
	return c, nil
}

func hexDigit(d byte) (uint8, bool) {
	switch {
	case '0' <= d && d <= '9':
		return d - '0', true
	case 'a' <= d && d <= 'f':
		return d - 'a' + 10, true
	case 'A' <= d && d <= 'F':
		return d - 'A' + 10, true
	}
	return 0, false
}

// String writes '#' and six lower-case hexadecimal digits.
func (c Color) String() string { return "#" + hex.EncodeToString([]byte{c.R, c.G, c.B}) }

// MarshalText writes the colour as String does.
func (c Color) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// Lab converts the colour to CIE L*a*b* (D65).
func (c Color) Lab() Lab {
	l, a, b := colorful.Color{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}.Lab()
	return Lab{100 * l, 100 * a, 100 * b}
}
