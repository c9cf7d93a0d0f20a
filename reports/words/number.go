package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"panecore/layers"
)

// Number writes x with so many decimals and the minus of ASCII; nothing is written as
// less than zero that rounds to zero.
func Number(x float64, decimals int) string {
	power := math.Pow10(decimals)
	s := strconv.FormatFloat(math.Round(x*power)/power, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// Signed is Number with the minus sign, U+2212, for what may well be below zero.
func Signed(x float64, decimals int) string {
	return strings.Replace(Number(x, decimals), "-", "−", 1)
}

// OnRuler writes a place on the ruler, stored in mm, without its unit and without
// needless zeros.
func OnRuler(u layers.Units, mm float64) string {
	if u == layers.Inches {
		return Number(u.Of(mm), 2)
	}
	return strings.TrimSuffix(Number(mm, 1), ".0")
}

// Plural is the units in a sentence, where "in" would be misread.
func Plural(u layers.Units) string {
	if u == layers.Inches {
		return "inches"
	}
	return "mm"
}

// Clock writes an hour of the day as HH:MM.
func Clock(hour float64) string {
	minutes := int(60*hour + 0.5)
	return fmt.Sprintf("%02d:%02d", minutes/60%24, minutes%60)
}

// Count writes so many of a thing: "1 core", "2 cores".
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
