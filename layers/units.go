package layers

import (
	"fmt"
	"strconv"
	"strings"
)

// ParseTemperature reads a temperature with its unit, as in "25C", "24.5 °C" or
// "77F", and gives it in °C. A bare number is refused, not guessed.
func ParseTemperature(s string) (celsius float64, err error) {
	number, fahrenheit, ok := cutUnit(s)
	value, err := strconv.ParseFloat(number, 64)
	if !ok || err != nil || strings.Trim(number, "+-.0123456789") != "" {
		return 0, fmt.Errorf("found temperature %q, want a number with its unit, as in 25C or 77F", s)
	}
	if fahrenheit {
		value = (value - 32) * 5 / 9 // exact by the definition of the scale
	}
	return value, nil
}

// cutUnit parts a number from a C or F behind it, with or without a blank and a degree sign.
func cutUnit(s string) (number string, fahrenheit, ok bool) {
	s = strings.ToUpper(strings.TrimSpace(s))
	number, celsius := strings.CutSuffix(s, "C")
	if !celsius {
		number, fahrenheit = strings.CutSuffix(s, "F")
	}
	number = strings.TrimSpace(strings.TrimSuffix(number, "°"))
	return number, fahrenheit, celsius || fahrenheit
}
