package words

import "unicode"

// Printable is what a renderer puts in the place of a letter from a record: a space for a
// control character, nothing (-1) for marks that reorder a line or change the sign before
// them and for what XML can't hold. No record can so rewrite a screen or a page.
func Printable(r rune) rune {
	switch {
	case ' ' <= r && r < 0x7f: // nearly all of a text
		return r
	case unicode.IsControl(r) || r == '\u2028' || r == '\u2029':
		return ' '
	case unicode.Is(unicode.Bidi_Control, r) || unicode.Is(unicode.Variation_Selector, r) || r == '\ufffe' || r == '\uffff':
		return -1
	}
	return r
}
