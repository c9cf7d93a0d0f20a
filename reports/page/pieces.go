package page

import (
	"bytes"
	"regexp"

	"panecore/reports/words"
)

// piece is a part of a text; a line does not break within a whole one.
type piece struct {
	Text  string
	Whole bool
}

// wholes match a date, which a browser would break at a hyphen, and a number with its unit.
// Long numbers don't match: they could be wider than the page.
var wholes = regexp.MustCompile(`\b(?:\d{4}-\d\d-\d\d\b|\d{1,6}(?:\.\d{1,6})? (?:%|°C|(?:mm|cm|mg(?: N)?/L)\b))`)

// pieces splits a text into pieces that join to the same text.
func pieces(text string) (list []piece) {
	end := 0
	for _, at := range wholes.FindAllStringIndex(text, -1) {
		if at[0] > end {
			list = append(list, piece{Text: text[end:at[0]]})
		}
		list = append(list, piece{text[at[0]:at[1]], true})
		end = at[1]
	}
	if end < len(text) {
		list = append(list, piece{Text: text[end:]})
	}
	return list
}

// printable drops from a page the characters that no record may put into it.
func printable(page []byte) []byte {
	return bytes.Map(func(r rune) rune {
		if r == '\n' {
			return r
		}
		return words.Printable(r)
	}, page)
}
