package page

import (
	"bytes"

	"panecore/reports/words"
)

// printable drops from a page the characters that no record may put into it.
func printable(page []byte) []byte {
	return bytes.Map(func(r rune) rune {
		if r == '\n' {
			return r
		}
		return words.Printable(r)
	}, page)
}
