package page

import "regexp"

// piece is a part of a text; a whole one is not broken where a line ends.
type piece struct {
	Text  string
	Whole bool
}

// wholes are a day, which a browser would break behind a hyphen, and a number with its unit.
// Long ones are not: they would be wider than the page.
var wholes = regexp.MustCompile(`\b(?:\d{4}-\d\d-\d\d\b|\d{1,6}(?:\.\d{1,6})? (?:%|°C|(?:mm|cm|mg(?: N)?/L)\b))`)

// pieces takes a text apart, for the page to keep those whole. Put together again
// they are the text.
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
