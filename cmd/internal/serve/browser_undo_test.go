package serve_test

import (
	"strings"
	"testing"

	"panecore/cmd/internal/browsertest"
)

// On a phone the button that takes back takes one line, however much was done, and whoever
// hears the page or points at it is told the whole of it.
func TestServe_undoIsOneLine(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	name := strings.Repeat("a-very-long-name-of-a-tank-", 2) + "end"
	s := standing(t, []string{"tank", "add", name})
	tab := enter(t, browser, s.served, look(390, 844, "light"), asPhone...)
	tab.goTo(t, "/")
	if high := browsertest.Found[float64](t, tab, `document.querySelector(".undo button").getBoundingClientRect().height`); high > 50 {
		t.Errorf("the button is %v pixels high, want one line of 44", high)
	}
	for _, of := range []string{`title`, `ariaLabel`} {
		if told := browsertest.Found[string](t, tab, `document.querySelector(".undo button").`+of); !strings.Contains(told, name) || !strings.Contains(told, "added") {
			t.Errorf("%s is %q", of, told)
		}
	}
	tab.leads(t, click(".undo button"))
	if said := tab.text(t, ".said"); !strings.Contains(said, name) {
		t.Errorf("said %q", said)
	}
}
