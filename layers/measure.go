package layers

import (
	"math"
	"strconv"
	"strings"
)

// measure is the range that a number must lie in, and what it measures.
type measure struct {
	low, high float64
	open      bool // low itself is outside
	unit      string
	of        quantity
}

// quantity is how a number is typed and shown.
type quantity uint8

const (
	plainNumber quantity = iota // in the unit of its measure
	length                      // stored in mm
	temperature                 // stored in °C
	share                       // stored as 0 to 1, shown in per cent
)

// The ranges. All are assumptions: what lies outside is a slip of the pen or of
// the unit, not a reading.
var (
	thicknessRange  = measure{low: 0, high: maxBedMM, open: true, unit: " mm", of: length}
	depthRange      = measure{low: 0, high: maxBedMM, unit: " mm", of: length}
	vesselRange     = measure{low: 20, high: 10000, unit: " mm", of: length} // a jar to a pond's length
	shareRange      = measure{low: 0, high: 1, unit: " (0.25 is a quarter)", of: share}
	colorDoubtRange = measure{low: 0, high: 100, unit: " (CIEDE2000)"} // black to white
	evRange         = measure{low: -10, high: 10, unit: " stops"}
	evDoubtRange    = measure{low: 0, high: 10, unit: " stops"}
	veilRange       = measure{low: -1, high: 1, unit: " (1 is white)"} // below 0: the colours had too much taken off
	veilDoubtRange  = measure{low: 0, high: 1, unit: " (1 is white)"}
	scaleErrorRange = measure{low: 0, high: 1, unit: " (0.01 is 1 %)"}
	contrastRange   = measure{low: 0, high: 5, open: true}
	finenessRange   = measure{low: 0, high: 5, open: true} // above 1 where noise is finer than any grain
	reliefRange     = measure{low: -maxBedMM, high: maxBedMM, unit: " mm", of: length}
)

// maxBedMM is the depth of the deepest bed in mm (assumption).
const maxBedMM = 2000

func (m measure) Holds(value float64) bool {
	return value <= m.high && (value > m.low || value == m.low && !m.open)
}

// String says what is wanted, as in "a number from 0 to 45 °C".
func (m measure) String() string {
	low := "from " + format(m.low) + " to "
	if m.open {
		low = "above " + format(m.low) + " and up to "
	}
	return "a number " + low + format(m.high) + m.unit
}

// parse reads a number as it is typed. Whether the measure holds it is for the store to say.
func (m measure) parse(text string) (float64, error) {
	switch m.of {
	case length:
		return ParseLength(text)
	case temperature:
		return ParseTemperature(text)
	case share:
		return ParseShare(text)
	}
	return ParseNumber(text)
}

// inUnit is a number as it is typed into a form that names the unit, with it.
func (m measure) inUnit(text string, u Units) (string, error) {
	switch {
	case m.of == share:
		_, err := ParsePercentage(text)
		return strings.TrimSuffix(text, "%") + "%", err
	case m.of != plainNumber && IsBare(text):
		return text + m.unitIn(u), nil
	}
	return text, nil
}

// said writes a number as it was entered, with its unit.
func (m measure) said(value float64, u Units) string {
	switch m.of {
	case length:
		decimals := 1 // a glass is read to no less
		if u == Inches {
			decimals = 2
		}
		value = u.Of(value)
		return rounded(value, decimals) + " " + u.String()
	case temperature:
		if u == Inches {
			value = value*9/5 + 32 // exact by the definition of the scale
		}
		return rounded(value, 2) + " " + m.unitIn(u) // as finely as one is typed
	case share:
		value *= 100
		return rounded(value, 6) + " %"
	}
	return strings.TrimSpace(format(value) + m.unit)
}

// text writes a number as people see it, with so many decimals at most.
func (m measure) text(value float64, decimals int, u Units) string {
	switch m.of {
	case length:
		return u.Length(value)
	case share:
		return rounded(100*value, decimals) + " %"
	}
	return rounded(value, decimals)
}

// unitIn is what stands behind a number as it is typed, where lengths are in u.
func (m measure) unitIn(u Units) string {
	switch m.of {
	case length:
		return u.String()
	case temperature:
		return "°" + u.degrees()
	case share:
		return "%"
	}
	return strings.TrimSpace(m.unit)
}

// format writes a number in its shortest form.
func format(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

// rounded writes a number with so many decimals at most, rounded half away from zero.
func rounded(value float64, decimals int) string {
	scale := math.Pow10(decimals)
	return format(math.Round(value*scale)/scale + 0) // -0 is 0
}
