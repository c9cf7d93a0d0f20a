package serve_test

import (
	"testing"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
)

// A form that comes back has the keys in the first field that wants mending, in sight.
func TestServe_firstFaultHasTheKeys(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t, []string{"tank", "add", "hall"})
	for _, l := range []browsertest.Look{look(1280, 900, "light"), look(390, 844, "light")} {
		tab := enter(t, browser, s.served, l, how(l)...)
		for _, form := range []struct {
			path, field string
			send        chromedp.Action[chromedp.Void]
		}{
			{"/tank/new", "#tank-name", click("main .main")},
			{"/tank/hall", "#water-ph", chromedp.Steps(click("#water ~ .add summary"), fill("#water-ph", "sour"), click("#water ~ .add .main"))},
			{"/tank/hall", "#event-kind", chromedp.Steps(click("#events ~ .add summary"), click("#events ~ .add .main"))},
		} {
			tab.goTo(t, form.path)
			tab.leads(t, form.send)
			tab.has(t, form.field)
			tab.Drawn(t)
			if !browsertest.Found[bool](t, tab, `(() => {
				const at = document.activeElement.getBoundingClientRect()
				return at.top >= 0 && at.bottom <= innerHeight})()`) {
				t.Errorf("%s at %d pixels: the field is not in sight", form.field, l.Width)
			}
		}
		wantQuiet(t, tab, "status of 422")
	}
}
