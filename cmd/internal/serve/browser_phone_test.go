package serve_test

import (
	"testing"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
)

// asPhone has a tab take itself for a phone: what points is a finger.
var asPhone = []chromedp.EmulateViewportOption{chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait}

// A photo is read by one finger on a phone, from the overview to the saved core.
func TestServe_photoByFinger(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s, truth := hallAnd(t, "buff-sand.jpg")
	tab := enter(t, browser, s.served, look(390, 844, "light"), asPhone...)
	tab.leads(t, tab.pressing(t, finger{}, `a[href="/tank/hall"]`))
	tab.leads(t, tab.pressing(t, finger{}, `a[href="/photo?tank=hall"]`))
	tab.choosePhoto(t, truth.Path())
	tab.markPhoto(t, finger{}, truth.Picks)
	_, seen := seenOf(t, tab, func(q photoQuestion) bool { return len(q.Picks.Cards) > 0 && q.Picks.Strip[2] > 0 })
	seen = tab.moveEdge(t, finger{}, seen, 1, 12)
	tab.press(t, finger{}, "#layers-next")
	tab.leads(t, tab.pressing(t, finger{}, "#save-go"))
	if at := tab.at(t); at != "/tank/hall" {
		t.Fatalf("at %s after saving", at)
	}
	savedIs(t, s, seen)
	wantQuiet(t, tab)
}
