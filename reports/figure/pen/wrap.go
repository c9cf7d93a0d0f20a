package pen

import (
	"strings"

	"panecore/reports/words"
)

// tied stands for a blank at which no line ends: it is no letter of a printable text.
const tied = "\x00"

// Wrap parts a text into lines of at most width. A word that is longer is cut, with a
// mark: what a keeper called a tank never runs over its neighbour.
func (f *Figure) Wrap(text string, width float64, t Lettering) (lines []string) {
	line := ""
	for _, word := range strings.Fields(strings.ReplaceAll(printable(text), " %", tied+"%")) {
		word = strings.ReplaceAll(word, tied, " ")
		longer := strings.TrimPrefix(line+" "+word, " ")
		if line != "" && f.Length(longer, t) > width {
			lines = append(lines, line)
			longer = word
		}
		line = f.Fit(longer, width, t)
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// Fit is a text, cut with a mark where it is wider than width.
func (f *Figure) Fit(text string, width float64, t Lettering) string {
	if text = printable(text); f.Length(text, t) <= width {
		return text
	}
	letters := []rune(text)
	for len(letters) > 1 && f.Length(string(letters)+"…", t) > width {
		letters = letters[:len(letters)-1]
	}
	return strings.TrimRight(string(letters), " ") + "…"
}

// printable is a text from a record as it may be drawn.
func printable(text string) string {
	return strings.Map(words.Printable, strings.ToValidUTF8(text, "?"))
}
