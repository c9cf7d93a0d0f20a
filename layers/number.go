package layers

import (
	"math"
	"strconv"
	"strings"

	"panecore/layers/jsonio"
)

// What was typed as a number is read here: with a decimal point or comma, and nothing guessed.
// What range it must lie in is for the caller to say.

const (
	lengthWanted      = `a number with its unit, as in 18mm, 1.8cm, 0.7in or 0.7"`
	temperatureWanted = "a number with its unit, as in 25C or 77F"
	shareWanted       = "a percentage, as in 25%"
	commaWanted       = "a decimal point instead, or no comma: it may part decimals or thousands"
)

// ParseNumber reads a number in digits, as in 7.4 or 7,4.
func ParseNumber(s string) (float64, error) {
	value, want := decimal(s, "a number such as 7.4")
	return unless(want, jsonio.Quote(s), value)
}

// unless is a value, or the fault of what was found where anything else is wanted.
func unless(want, found string, value float64) (float64, error) {
	if want != "" {
		return 0, Fault{Found: found, Want: want}
	}
	return value, nil
}

// ParseShare reads a percentage, as in 25% or "2,5 %", and gives it as a share of 1. A bare number
// is refused: 1 may mean all or a hundredth.
func ParseShare(s string) (float64, error) {
	number, ok := strings.CutSuffix(strings.TrimSpace(s), "%")
	percent, want := decimal(number, shareWanted)
	if want == "" && !ok {
		want = shareWanted
	}
	return unless(want, "share "+jsonio.Quote(s), percent/100)
}

// ParsePercentage is ParseShare for a form that has the sign beside the field, so that it may be
// left out. What is above 0 and below 1 is refused: it was meant as a share of 1.
func ParsePercentage(s string) (float64, error) {
	percent, want := decimal(strings.TrimSuffix(strings.TrimSpace(s), "%"), "a percentage, as in 25")
	switch {
	case want != "":
	case percent < 0 || percent > 100:
		want = "a percentage from 0 to 100 %"
	case percent > 0 && percent < 1:
		want = "1 % or more: for a quarter type 25"
	}
	return unless(want, jsonio.Quote(s), percent/100)
}

// ParseTemperature reads a temperature with its unit, as in 25C, "24,5 °C" or 77F, and gives it
// in °C. A bare number is refused.
func ParseTemperature(s string) (celsius float64, err error) {
	number, fahrenheit, ok := cutDegrees(s)
	value, want := decimal(number, temperatureWanted)
	if want == "" && !ok {
		want = temperatureWanted
	}
	if fahrenheit {
		value = (value - 32) * 5 / 9 // exact by the definition of the scale
	}
	return unless(want, "temperature "+jsonio.Quote(s), value)
}

// cutDegrees parts a number from a C or F behind it, with or without a blank and a degree sign.
func cutDegrees(s string) (number string, fahrenheit, ok bool) {
	s = strings.ToUpper(strings.TrimSpace(s))
	number, celsius := strings.CutSuffix(s, "C")
	if !celsius {
		number, fahrenheit = strings.CutSuffix(s, "F")
	}
	return strings.TrimSuffix(strings.TrimSpace(number), "°"), fahrenheit, celsius || fahrenheit
}

// lengthUnits are the units in which a length may be typed.
var lengthUnits = []struct {
	name string
	mm   float64
}{{"mm", 1}, {"cm", 10}, {"in", mmPerInch}, {`"`, mmPerInch}}

// ParseLength reads a length with its unit, as in 18mm, "1.8 cm", 1,8cm, 0.7in or
// 0.7", and gives it in mm. A bare number is refused.
func ParseLength(s string) (mm float64, err error) {
	mm, want := lengthIn(s)
	return unless(want, "length "+jsonio.Quote(s), mm)
}

func lengthIn(s string) (mm float64, want string) {
	text := strings.ToLower(strings.TrimSpace(s))
	for _, unit := range lengthUnits {
		number, ok := strings.CutSuffix(text, unit.name)
		if !ok {
			continue
		}
		value, want := decimal(number, lengthWanted)
		if mm := settled(value * unit.mm); want != "" || !math.IsInf(mm, 0) {
			return mm, want
		}
	}
	return 0, lengthWanted
}

// ParseSize is ParseLength for what has a length: in a record 0 stands for "not given".
func ParseSize(s string) (mm float64, err error) {
	mm, err = ParseLength(s)
	if err == nil && mm <= 0 {
		err = Fault{Found: "length " + jsonio.Quote(s), Want: "more than 0"}
	}
	return mm, err
}

// settled rounds a length to a millionth of a millimetre, far below what a glass
// shows, so that 0.7 inches are 17.78 mm to the last digit.
func settled(mm float64) float64 { return math.Round(mm*1e6)/1e6 + 0 } // -0 is 0

// IsBare reports whether a number was typed without a unit.
func IsBare(s string) bool { return s != "" && strings.Trim(s, "+-.,0123456789") == "" }

// decimal reads a decimal number and nothing else. Where it can't, it says what is wanted: the
// text given, or a number whose comma can't be mistaken.
func decimal(s, wanted string) (value float64, want string) {
	s = strings.TrimSpace(s)
	switch value, err := strconv.ParseFloat(strings.ReplaceAll(s, ",", "."), 64); {
	case !IsBare(s) || err != nil:
		return 0, wanted
	case mayPartThousands(s):
		return 0, commaWanted
	default:
		return value, ""
	}
}

// mayPartThousands reports whether a number, as 1,000, may be meant with its comma left out.
func mayPartThousands(s string) bool {
	whole, rest, found := strings.Cut(strings.TrimLeft(s, "+-"), ",")
	return found && len(rest) == 3 && whole != "" && len(whole) <= 3 && whole[0] != '0'
}
