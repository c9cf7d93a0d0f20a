package words

import "unicode"

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
