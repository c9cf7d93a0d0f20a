package serve_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/programtest"
)

// photographedHall serves a tank with three photos of its front, one without a card.
func photographedHall(t *testing.T) stand {
	t.Helper()
	file := func(photo, day, card string) []string {
		for _, truth := range programtest.PhotoTruths(t) {
			if truth.File == photo {
				r := truth.Picks.Ruler
				args := []string{"photo", truth.Path(), "--tank", "hall", "--station", "front", "--date", day,
					"--strip", programtest.Joined(truth.Picks.Strip[:]), "--ruler", programtest.Joined(r[:]) + "mm"}
				if card != "" {
					args = append(args, "--neutral", card)
				}
				return args
			}
		}
		t.Fatalf("no photo is called %s", photo)
		return nil
	}
	return standing(t, []string{"tank", "add", "hall", "--set-up", "2025-01-01", "--native", "#d5c8a5,sand"},
		file("buff-sand.jpg", "2026-01-01", "1415,556,125,111"), file("grey.jpg", "2026-02-01", ""), file("sand.jpg", "2026-03-02", "1359,651,154,95"))
}

// fetchAll waits for all photos of a tank's page, those far below too.
func (tab *tab) fetchAll(t *testing.T) {
	t.Helper()
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("img").forEach(i => { i.loading = "eager" })`))
	tab.until(t, `[...document.querySelectorAll("img")].every(i => i.complete && i.naturalWidth > 0)`)
}

// The strips of years and two photos laid over each other can be read and used, wide and on a phone.
func TestServe_yearsLook(t *testing.T) {
	t.Parallel()
	servedView{name: "tank-years", path: "/tank/hall", then: func(t *testing.T, tab *tab, _ *served) {
		tab.fetchAll(t)
	}}.check(t, browsertest.Start(t), photographedHall(t).served)
}

// A slider, moved by keys, lays the later of two photos over the earlier one; the days can be chosen, and both photos have
// one scale.
func TestServe_wipe(t *testing.T) {
	t.Parallel()
	s := photographedHall(t)
	tab := enter(t, browsertest.Start(t), s.served, look(1280, 900, "light"))
	tab.goTo(t, "/tank/hall")
	tab.until(t, `document.querySelectorAll("#years ~ .timeline image").length == 3`)
	dates := func() string {
		return browsertest.Found[string](t, tab, `[...document.querySelectorAll(".slide time")].map(t => t.textContent).join(" ")`)
	}
	if got := dates(); got != "2026-02-01 2026-03-02" {
		t.Errorf("laid over each other: %s, want the newest two", got)
	}
	cut := func() string {
		return browsertest.Found[string](t, tab, `getComputedStyle(document.querySelector(".laid figure + figure .strip")).clipPath`)
	}
	tab.Do(t, chromedp.Focus(chromedp.CSS(".slide input")), chromedp.KeyEvent(kb.ArrowRight))
	if got := cut(); !strings.Contains(got, "51%") {
		t.Errorf("after one step to the right it is cut by %s, want 51 %%", got)
	}
	tab.Do(t, chromedp.KeyEvent(kb.End))
	if got := cut(); !strings.Contains(got, "100%") {
		t.Errorf("at the end it is cut by %s, want all", got)
	}
	tab.choose(t, `[name="before"]`, "2026-01-01")
	tab.leads(t, click(".days button"))
	if got := dates(); got != "2026-01-01 2026-03-02" {
		t.Errorf("laid over each other: %s, want the two that were chosen", got)
	}
	tab.fetchAll(t)
	const off = `Math.max(...[...document.querySelectorAll(".panes img")].map(i => Math.abs(i.width / i.naturalWidth - 2) + Math.abs(i.height / i.naturalHeight - 2)))`
	if stretched := browsertest.Found[float64](t, tab, off); stretched > 0.05 {
		t.Errorf("a strip is stretched by %.2f, want two pixels of the screen for each of its own", stretched)
	}
	wantQuiet(t, tab)
}
