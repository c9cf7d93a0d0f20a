package pen

import (
	"strings"

	"panecore/reports/words"
)

// tied stands for a space at which no line may end. No printable text has this letter.
const tied = "\x00"

// Wrap breaks a text into lines no wider than width, mm. A longer word is cut, so that no
// tank's name runs over its neighbour.
func (f *Figure) Wrap(text string, width float64, t Lettering) []string {
	list := strings.Fields(strings.ReplaceAll(printable(text), " %", tied+"%"))
	for i, word := range list {
		list[i] = f.Fit(strings.ReplaceAll(word, tied, " "), width, t)
	}
	return words.Wrap(list, " ", func(line string) bool { return f.Length(line, t) <= width })
}

// Fit is a text, cut and marked with an ellipsis if it is wider than width, mm.
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

// printable is a text without what no record may put into a picture.
func printable(text string) string {
	return strings.Map(words.Printable, strings.ToValidUTF8(text, "?"))
}
