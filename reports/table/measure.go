package table

import (
	"math"
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/reports"
)

// plural is the units in a sentence, where "in" would be misread.
func plural(u layers.Units) string {
	if u == layers.Inches {
		return "inches"
	}
	return "mm"
}

// A measure is how one sort of number is shown.
type measure struct {
	unit     string
	scale    float64                        // shown units to one stored unit
	decimals func(value, width float64) int // by the number's own size and its range's, as shown
}

// digits is how many decimals an estimate is shown with.
func (m measure) digits(e reports.Estimate) int {
	return m.decimals(e.Value*m.scale, (e.High-e.Low)*m.scale)
}

// length is the measure of stored millimetres.
func length(u layers.Units) measure {
	if u == layers.Inches {
		return measure{u.String(), u.Of(1), hundredths}
	}
	return measure{u.String(), 1, readable}
}

// rate is the measure of stored millimetres a month.
func rate(u layers.Units) measure {
	m := length(u)
	m.unit += "/month"
	usual := 1
	if u == layers.Inches {
		usual = 2
	}
	m.decimals = func(_, width float64) int {
		if width*math.Pow10(usual) < 5 { // a range that the usual decimals would hide
			return usual + 1
		}
		return usual
	}
	return m
}

// oxygen is the measure of milligrams of oxygen a litre.
func oxygen() measure { return measure{"mg/L", 1, readable} }

// ammonia is the measure of milligrams of ammonia nitrogen a litre.
func ammonia() measure { return measure{"mg N/L", 1, leading} }

// readable gives whole numbers from 10 up, tenths below: a glass is read to
// about a millimetre.
func readable(value, _ float64) int {
	if math.Abs(value) >= 9.95 {
		return 0
	}
	return 1
}

func hundredths(_, _ float64) int { return 2 }

// leading gives thousandths, and more where the first digit stands behind them,
// to the sixth place.
func leading(value, _ float64) int {
	decimals := 3
	for least := 0.0005; decimals < 6 && math.Abs(value) < least; least /= 10 {
		decimals++
	}
	return decimals
}

// onRuler writes a place on the ruler, without needless zeros.
func onRuler(u layers.Units, mm float64) string {
	if u == layers.Inches {
		return number(u.Of(mm), 2)
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
