package serve_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
)

// block has the browser get no answer from addresses that match; none: from all it gets one.
func (tab *tab) block(t *testing.T, patterns ...string) {
	t.Helper()
	p := network.SetBlockedURLsParams{URLPatterns: []*network.BlockPattern{}}
	for _, pattern := range patterns {
		p.URLPatterns = append(p.URLPatterns, &network.BlockPattern{URLPattern: pattern, Block: true})
	}
	if _, err := chromedp.Call(tab, network.SetBlockedURLs, p); err != nil {
		t.Fatal(err)
	}
}

// Where panecore is not answering while a photo's page is loaded the page says so, and no more
// that it is opening the photo.
func TestServe_photoUnopened(t *testing.T) {
	t.Parallel()
	_, _, tab := openHall(t, "buff-sand.jpg")
	for _, address := range []string{"state", "screen.jpg"} {
		tab.block(t, "http://*:*/photo/*/"+address+"*")
		tab.reload(t)
		tab.until(t, `document.getElementById("photo-wait").hidden && !document.getElementById("photo-fault").hidden`)
		if told := tab.text(t, "#photo-fault"); !strings.Contains(told, "panecore is not answering") {
			t.Errorf("without %s: told %q", address, told)
		}
	}
	tab.block(t)
	tab.reload(t)
	tab.until(t, `document.getElementById("photo-wait").hidden && document.getElementById("photo-fault").hidden`)
	wantQuiet(t, tab, "ERR_BLOCKED_BY_CLIENT")
}

// After panecore was started anew at the same address a photo's page, whose cookie is none any
// more, says why it gets no further, and what was read stays to be seen.
func TestServe_photoAfterStartedAnew(t *testing.T) {
	t.Parallel()
	s, truth, tab := openHall(t, "buff-sand.jpg")
	tab.markPhoto(t, mouse{}, truth.Picks)
	tab.until(t, `document.getElementById("handle-edge-1")`)
	s.stop()
	serve(t, "--logbook", s.logbook, "--addr", s.host)

	tab.choose(t, "#layers-list .layer:nth-child(4) select", "grey")
	tab.until(t, `document.getElementById("photo-fault").checkVisibility()`)
	if told := tab.text(t, "#photo-fault"); !strings.Contains(told, "open the page with the full address") {
		t.Errorf("told %q", told)
	}
	if !browsertest.Found[bool](t, tab, `document.getElementById("layers-list").checkVisibility() && document.getElementById("handle-edge-1") !== null`) {
		t.Error("the layers are gone")
	}
	tab.Do(t, click("#step-save .step-name"), click("#save-go"))
	tab.until(t, `document.getElementById("save-fault").checkVisibility()`)
	if told := tab.text(t, "#save-fault"); !strings.Contains(told, "open the page with the full address") {
		t.Errorf("told %q after Save", told)
	}
	wantQuiet(t, tab, fmt.Sprint("status of ", http.StatusForbidden))
}

// The right mouse button opens the browser's menu and marks nothing.
func TestServe_photoRightButton(t *testing.T) {
	t.Parallel()
	_, truth, tab := openHall(t, "buff-sand.jpg")
	tab.unmark(t, mouse{})
	r := truth.Picks.Ruler
	mark := func(button chromedp.MouseOption) (handles string) {
		t.Helper()
		for _, at := range []place{tab.on(t, place{r[0], r[1]}), tab.on(t, place{r[2], r[3]})} {
			tab.Do(t, chromedp.MouseClickXY(at[0], at[1], button))
		}
		tab.Drawn(t)
		return browsertest.Found[string](t, tab, `[...document.querySelectorAll("[id^=handle-]")].map(h => h.id).join()`)
	}
	if handles := mark(chromedp.ButtonRight); handles != "" {
		t.Errorf("the right button marked %s", handles)
	}
	if handles := mark(chromedp.ButtonLeft); handles != "handle-ruler-from,handle-ruler-to" {
		t.Errorf("the left button marked %q", handles)
	}
}

// A handle tells its depth in the units that the page is read in.
func TestServe_photoInInches(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	_, truth := hallAnd(t, "buff-sand.jpg")
	tab := enter(t, browser, serve(t, "--units", "in"), look(1280, 900, "light"))
	tab.goTo(t, "/photo")
	tab.choosePhoto(t, truth.Path())
	tab.unmark(t, mouse{})
	tab.Do(t, chromedp.Focus(chromedp.CSS("#ruler-unit")))
	tab.turn(t, "#ruler-unit", "mm")
	tab.markPhoto(t, mouse{}, truth.Picks)
	tab.until(t, `document.getElementById("handle-edge-1")`)
	told := browsertest.Found[string](t, tab, `document.getElementById("handle-edge-1").getAttribute("aria-valuetext")`)
	var from, to float64
	if _, err := fmt.Sscanf(tab.text(t, `#layers-list [data-fill="depths"]`), "%f to %f in", &from, &to); err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf("%.2f in down", to); told != want {
		t.Errorf("the handle tells %q, want %q as the layer does", told, want)
	}
}

// A length that is none keeps the ruler's step open, with what is wrong told below the field; once
// it is mended Enter goes on.
func TestServe_photoLengthWrong(t *testing.T) {
	t.Parallel()
	_, truth, tab := openHall(t, "buff-sand.jpg")
	tab.unmark(t, mouse{})
	r := truth.Picks.Ruler
	tab.tapPhoto(t, mouse{}, place{r[0], r[1]})
	tab.tapPhoto(t, mouse{}, place{r[2], r[3]})
	for _, wrong := range []string{"abc", "0", "7.7.7"} {
		tab.Do(t, fill("#ruler-length", wrong))
		tab.until(t, `document.getElementById("fault-length").textContent.includes("want")`)
		tab.Do(t, enterKey)
		tab.has(t, "#ruler-length")
		tab.press(t, mouse{}, "#ruler-next")
		tab.has(t, "#ruler-length")
		if !browsertest.Found[bool](t, tab, `document.getElementById("fault-length").checkVisibility() && document.getElementById("photo-fault").hidden`) {
			t.Errorf("%s: what is wrong is not told at the field alone", wrong)
		}
	}
	tab.Do(t, fill("#ruler-length", "abc"), enterKey) // before an answer
	tab.has(t, "#ruler-length")
	tab.until(t, `document.getElementById("fault-length").textContent.includes("abc")`)
	tab.slow(t, 300)
	tab.Do(t, fill("#ruler-length", fmt.Sprint(r[4])), enterKey)
	tab.has(t, "#step-card .step-name")
	if !browsertest.Found[bool](t, tab, `document.getElementById("photo-fault").hidden`) {
		t.Error("the fault of the length that was mended is told once more")
	}
}
