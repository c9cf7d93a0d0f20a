package layers

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Units are what people see lengths in; records and findings hold millimetres
// throughout. A *Units serves as the value of a command-line flag.
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

// Of turns millimetres into the units.
func (u Units) Of(mm float64) float64 {
	if u == Inches {
		return mm / mmPerInch
	}
	return mm
}

// Number writes a length as it is spoken of: whole millimetres from 10 up and
// tenths below, since a glass is read to about a millimetre; hundredths of an inch.
func (u Units) Number(mm float64) string {
	decimals := 1
	switch {
	case u == Inches:
		decimals = 2
	case math.Abs(mm) >= 9.95:
		decimals = 0
	}
	scale := math.Pow10(decimals) // rounded half away from zero, as a keeper would
	s := strconv.FormatFloat(math.Round(u.Of(mm)*scale)/scale, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" { // nothing is less than zero that rounds to zero
		s = strings.TrimPrefix(s, "-")
	}
	if u == MM {
		s = strings.TrimSuffix(s, ".0")
	}
	return s
}

// Length is Number with its unit.
func (u Units) Length(mm float64) string { return u.Number(mm) + " " + u.String() }

// degrees is the unit that a temperature is typed in, where lengths are in u.
func (u Units) degrees() string {
	if u == Inches {
		return "F"
	}
	return "C"
}
