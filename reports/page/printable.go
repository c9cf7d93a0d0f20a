package page

import (
	"bytes"
	"unicode"
)

// printable drops from a page what no record may put into it: marks that reorder a line,
// and control characters, which HTML has no use for.
func printable(page []byte) []byte {
	return bytes.Map(func(r rune) rune {
		switch {
		case r == '\n' || ' ' <= r && r < 0x7f: // nearly all of a page
			return r
		case unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r):
			return -1
		}
		return r
	}, page)
}
