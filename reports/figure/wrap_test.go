package figure

import (
	"strings"
	"testing"
)

// A number and its sign stand on one line, and a text that goes on is cut at a word.
func TestWrap_atWords(t *testing.T) {
	const text = "Siphon the top, from at most 25 % of the floor at a time, 5 % at first, two to four weeks apart."
	f := newFigure("words", 170)
	for width := 12.0; width < 120; width++ {
		lines := f.wrapped(text, width, usual)
		for _, line := range lines {
			if strings.HasPrefix(line.text, "%") {
				t.Errorf("%g mm: a line begins %q", width, line.text)
			}
		}
		if two := f.first(2, text, width, usual); len(lines) > 2 {
			last, cut := strings.CutSuffix(two[1].text, " …")
			if !cut || last != "" && !strings.Contains(text, last+" ") || f.length(two[1].text, usual) > width {
				t.Errorf("%g mm: the text ends %q", width, two[1].text)
			}
		}
	}
}
