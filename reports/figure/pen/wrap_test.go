package pen

import (
	"strings"
	"testing"
)

// A number and its sign stand on one line, and a text that goes on is cut at a word.
func TestWrap_atWords(t *testing.T) {
	const text = "Siphon the top, from at most 25 % of the floor at a time, 5 % at first, two to four weeks apart."
	f := NewFigure("words", 170)
	for width := 12.0; width < 120; width++ {
		lines := f.Wrapped(text, width, Usual)
		for _, line := range lines {
			if strings.HasPrefix(line.Text, "%") {
				t.Errorf("%g mm: a line begins %q", width, line.Text)
			}
		}
		if two := f.First(2, text, width, Usual); len(lines) > 2 {
			last, cut := strings.CutSuffix(two[1].Text, " …")
			if !cut || last != "" && !strings.Contains(text, last+" ") || f.Length(two[1].Text, Usual) > width {
				t.Errorf("%g mm: the text ends %q", width, two[1].Text)
			}
		}
	}
}
