package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"panecore/layers"
	"panecore/reports"
)

// Number writes x with so many decimals and an ASCII minus. What rounds to zero gets no minus.
func Number(x float64, decimals int) string {
	power := math.Pow10(decimals)
	s := strconv.FormatFloat(math.Round(x*power)/power, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// Signed is Number with the minus sign U+2212, for what may be below zero.
func Signed(x float64, decimals int) string {
	return strings.Replace(Number(x, decimals), "-", "−", 1)
}

// OnRuler writes a place on the ruler, stored in mm, without its unit and needless zeros.
func OnRuler(u layers.Units, mm float64) string {
	if u == layers.Inches {
		return Number(u.Of(mm), 2)
	}
	return strings.TrimSuffix(Number(mm, 1), ".0")
}

// TopWater says that a reading seems to begin in the water, in a sentence without its capital and its stop.
func TopWater(u layers.Units, w reports.TopWater) string {
	return fmt.Sprintf("the uppermost %s %s look like water", OnRuler(u, w.DepthMM), u)
}

// Plural names the units in a sentence, where "in" would be misread.
func Plural(u layers.Units) string {
	if u == layers.Inches {
		return "inches"
	}
	return "mm"
}

// Depth writes a place on the ruler, stored in mm, with its unit.
func Depth(u layers.Units, mm float64) string { return OnRuler(u, mm) + " " + u.String() }

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

// Printable replaces a letter from a record so that no record can rewrite a screen or a page: a
// space for a control character, nothing (-1) for marks that reorder a line or change the character
// before them and for what XML can't hold.
func Printable(r rune) rune {
	switch {
	case ' ' <= r && r < 0x7f: // nearly every letter
		return r
	case unicode.IsControl(r) || r == '\u2028' || r == '\u2029':
		return ' '
	case unicode.Is(unicode.Bidi_Control, r) || unicode.Is(unicode.Variation_Selector, r) || r == '\ufffe' || r == '\uffff':
		return -1
	}
	return r
}
