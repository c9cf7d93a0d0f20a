package serve_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
)

// A button that is pressed twice sends its form once, and the second click of a double click
// does nothing on the page that answers the first.
func TestServe_sendsOnce(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t, []string{"tank", "add", "hall"},
		[]string{"event", "add", "hall", "stir", "--date", "2026-05-01"}, []string{"event", "add", "hall", "replant", "--date", "2026-05-02"})
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.goTo(t, "/tank/hall")
	before := s.says(t, "export")
	const remove = `form[action="/tank/hall/event/remove"]`
	tab.Do(t, chromedp.DoubleClick(chromedp.CSS(remove+" button"))) // sent as the second click alone
	tab.Drawn(t)
	if s.says(t, "export") != before {
		t.Error("the second click of a double click removes what the first one left")
	}
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`(() => {
		window.tried = window.sent = 0
		addEventListener("submit", e => {
			tried++
			if (!e.defaultPrevented) sent++
			e.preventDefault() // the page stays, to be asked
		})
		for (let i = 0; i < 3; i++) document.querySelector('`+remove+`').requestSubmit()})()`))
	if browsertest.Found[int](t, tab, `tried`) != 3 || browsertest.Found[int](t, tab, `sent`) != 1 {
		t.Errorf("pressed %d times it was sent %d times, want once", browsertest.Found[int](t, tab, `tried`), browsertest.Found[int](t, tab, `sent`))
	}
	tab.reload(t)
	tab.leads(t, click(remove+" button"))
	if said := tab.text(t, ".said"); !strings.Contains(said, "is removed") {
		t.Errorf("said %q", said)
	}
	wantQuiet(t, tab)
}
