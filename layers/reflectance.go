package layers

import (
	"fmt"
	"strings"

	"panecore/palette"
)

// ParseReflectance reads how much light a card throws back, in per cent or as a CIE
// lightness, as in 18%, "18 %" or L=66, and gives its luminance, above 0 and up to 1.
func ParseReflectance(s string) (float64, error) {
	text := strings.ToUpper(strings.TrimSpace(s))
	number, isPercent := strings.CutSuffix(text, "%")
	lightness, isLightness := strings.CutPrefix(text, "L=")
	if isLightness {
		number = lightness
	}
	value, ok := parseDecimal(strings.TrimSpace(number))
	switch {
	case !ok || isPercent == isLightness || !(value > 0 && value <= 100):
		return 0, fmt.Errorf("found %s, want how much light the card throws back, above 0 and up to 100, as in 18%%, or its lightness, as in L=66", quote(s))
	case isLightness:
		return palette.Lab{L: value}.Linear().Luminance(), nil
	}
	return value / 100, nil
}
