package table

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Units are what people see lengths in; findings hold millimetres throughout.
// A *Units serves as the value of a command-line flag.
type Units uint8

// The units.
const (
	MM Units = iota
	Inches
)

// mmPerInch is the international inch of 1959, exact.
const mmPerInch = 25.4

// ParseUnits reads "mm" or "in".
func ParseUnits(s string) (Units, error) {
	switch s {
	case "mm":
		return MM, nil
	case "in":
		return Inches, nil
	}
	return MM, fmt.Errorf("found units %q, want mm or in", s)
}

// String writes the units as ParseUnits reads them.
func (u Units) String() string {
	if u == Inches {
		return "in"
	}
	return "mm"
}

// plural is the units in a sentence, where "in" would be misread.
func (u Units) plural() string {
	if u == Inches {
		return "inches"
	}
	return "mm"
}

// Set reads the units from a flag.
func (u *Units) Set(s string) error {
	parsed, err := ParseUnits(s)
	if err == nil {
		*u = parsed
	}
	return err
}

// Type names the flag's values in its help.
func (*Units) Type() string { return "mm|in" }

// of turns millimetres into the units.
func (u Units) of(mm float64) float64 {
	if u == Inches {
		return mm / mmPerInch
	}
	return mm
}

// A measure is how one sort of number is shown.
type measure struct {
	unit     string
	scale    float64                 // shown units to one stored unit
	decimals func(shown float64) int // by the number's own size
}

// length is the measure of stored millimetres.
func (u Units) length() measure {
	if u == Inches {
		return measure{"in", 1 / mmPerInch, hundredths}
	}
	return measure{"mm", 1, readable}
}

// rate is the measure of stored millimetres a month.
func (u Units) rate() measure {
	m := u.length()
	m.unit += "/month"
	return m
}

// oxygen is the measure of milligrams of oxygen a litre.
func oxygen() measure { return measure{"mg/L", 1, readable} }

// ammonia is the measure of milligrams of ammonia nitrogen a litre.
func ammonia() measure { return measure{"mg N/L", 1, leading} }

// readable gives whole numbers from 10 up, tenths below: a glass is read to
// about a millimetre.
func readable(shown float64) int {
	if math.Abs(shown) >= 9.95 {
		return 0
	}
	return 1
}

func hundredths(float64) int { return 2 }

// leading gives thousandths, and more where the first digit stands behind them,
// to the sixth place.
func leading(shown float64) int {
	decimals := 3
	for least := 0.0005; decimals < 6 && math.Abs(shown) < least; least /= 10 {
		decimals++
	}
	return decimals
}

// depth writes a place on the ruler, without needless zeros.
func (u Units) depth(mm float64) string {
	if u == Inches {
		return number(u.of(mm), 2)
	}
	return strings.TrimSuffix(number(mm, 1), ".0")
}

// number writes x with so many decimals; nothing is written as less than zero
// that rounds to zero.
func number(x float64, decimals int) string {
	power := math.Pow10(decimals)
	s := strconv.FormatFloat(math.Round(x*power)/power, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}
