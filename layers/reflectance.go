package layers

import (
	"strings"

	"panecore/layers/jsonio"
	"panecore/palette"
)

const reflectanceWanted = "how much light the card throws back, above 0 and up to 100, as in 18%, or its lightness, as in L=66"

// ParseReflectance reads how much light a card throws back, in per cent or as a CIE
// lightness, as in 18%, "18 %" or L=66, and gives its luminance, above 0 and up to 1.
func ParseReflectance(s string) (float64, error) {
	text := strings.ToUpper(strings.TrimSpace(s))
	number, isPercent := strings.CutSuffix(text, "%")
	lightness, isLightness := strings.CutPrefix(text, "L=")
	if isLightness {
		number = lightness
	}
	value, want := decimal(number, reflectanceWanted)
	if want == "" && (isPercent == isLightness || !(value > 0 && value <= 100)) {
		want = reflectanceWanted
	}
	luminance := value / 100
	if isLightness {
		luminance = palette.Lab{L: value}.Linear().Luminance()
	}
	return unless(want, jsonio.Quote(s), luminance)
}
