package palette

import (
	"encoding/hex"
	"fmt"

	"github.com/lucasb-eyer/go-colorful"
)

// Color is a colour as seen and stored: sRGB with eight bits a channel.
type Color struct{ R, G, B uint8 }

// Lab is a colour in CIE L*a*b* under D65, on the usual scale (L* 0 to 100).
type Lab struct{ L, A, B float64 }

// ParseColor reads '#' and six hexadecimal digits.
func ParseColor(s string) (Color, error) {
	var rgb []byte
	if len(s) == 7 && s[0] == '#' {
		rgb, _ = hex.DecodeString(s[1:])
	}
	if len(rgb) != 3 {
		return Color{}, fmt.Errorf("found colour %q, want '#' and six hexadecimal digits, as in #8b5e3c", s)
	}
	return Color{rgb[0], rgb[1], rgb[2]}, nil
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
