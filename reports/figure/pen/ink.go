package pen

import "panecore/palette"

// Ink is the colour of a mark. One with a role changes on a dark screen; one without is a
// colour as read.
type Ink struct {
	Role  string // its class in SVG
	Color palette.Color
	Alpha float64 // 0 to 1
}

// The inks by role. Those of words and thin lines have a contrast of at least 4.5 against
// white (WCAG 2.2, 1.4.3), except the hairs, which carry no information of their own.
var (
	InkPaper = Ink{"paper", palette.Color{R: 0xff, G: 0xff, B: 0xff}, 1}
	InkWord  = Ink{"word", palette.Color{R: 0x1f, G: 0x25, B: 0x2a}, 1}
	InkSoft  = Ink{"soft", palette.Color{R: 0x58, G: 0x62, B: 0x6b}, 1}
	InkHair  = Ink{"hair", palette.Color{R: 0xc8, G: 0xce, B: 0xd3}, 1}
	InkWater = Ink{"water", palette.Color{R: 0xe3, G: 0xee, B: 0xf4}, 1}
	InkOxic  = Ink{"oxic", palette.Color{R: 0x0b, G: 0x6e, B: 0x74}, 1}
	InkMulm  = Ink{"mulm", palette.Color{R: 0x7a, G: 0x54, B: 0x2e}, 1}
	InkLimit = Ink{"limit", palette.Color{R: 0xa8, G: 0x24, B: 0x3a}, 1}
)

// AsRead is the ink of a colour as read.
func AsRead(c palette.Color) Ink { return Ink{"", c, 1} }

// Faint is the ink at a share of its opacity, 0 to 1.
func (i Ink) Faint(share float64) Ink {
	i.Alpha *= share
	return i
}

// darkest is the lightness (L*) below which marks on a colour are white (assumption: about
// where black and white stand out alike).
const darkest = 52

// On is the ink of marks on a colour as read: black or white, whichever stands out.
func On(c palette.Color) Ink {
	if c.Lab().L < darkest {
		return AsRead(palette.Color{R: 0xff, G: 0xff, B: 0xff})
	}
	return AsRead(palette.Color{})
}
