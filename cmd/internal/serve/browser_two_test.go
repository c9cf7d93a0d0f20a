package serve_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
)

// What was begun is there after a reload: the marks, edges, names and notes of a photo, and
// the rows of a core that is typed.
func TestServe_reloadKeepsWhatWasBegun(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s, truth := hallAnd(t, "buff-sand.jpg")
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	t.Run("photo", func(t *testing.T) {
		tab.goTo(t, "/photo?tank=hall")
		tab.choosePhoto(t, truth.Path())
		tab.unmark(t, mouse{})
		r := truth.Picks.Ruler
		tab.tapPhoto(t, mouse{}, place{r[0], r[1]})
		tab.tapPhoto(t, mouse{}, place{r[2], r[3]})
		tab.Do(t, fill("#ruler-length", fmt.Sprint(r[4])))
		half, _ := exchange(t, tab, "/read", func(q photoQuestion) bool { return q.Picks.Ruler != nil && q.Picks.Ruler.Length == "100mm" })
		tab.reload(t)
		tab.until(t, `document.getElementById("step-strip").classList.contains("open")`)
		again, _ := exchange(t, tab, "/read", func(photoQuestion) bool { return true })
		if *again.Picks.Ruler != *half.Picks.Ruler || browsertest.Found[string](t, tab, `document.getElementById("ruler-length").value`) != "100" {
			t.Errorf("the ruler is %v after a reload, was %v", again.Picks.Ruler, half.Picks.Ruler)
		}

		tab.boxPhoto(t, mouse{}, truth.Picks.Strip)
		tab.press(t, mouse{}, "#surface-next")
		tab.until(t, `document.getElementById("handle-edge-1")`)
		tab.choose(t, "#layers-list .layer:nth-child(4) select", "grey")
		tab.press(t, mouse{}, "#layers-next")
		tab.Do(t, click(`#save-signs [value="gasping"]`), fill("#save-note", "glass wiped"), chromedp.Focus(chromedp.CSS("#save-station")))
		whole, _ := seenOf(t, tab, func(q photoQuestion) bool { return q.Note == "glass wiped" })
		tab.reload(t)
		tab.until(t, `document.getElementById("handle-edge-1")`)
		after, _ := seenOf(t, tab, func(photoQuestion) bool { return true })
		if before, after := fmt.Sprintf("%+v", whole), fmt.Sprintf("%+v", after); before[strings.Index(before, "Strip"):] != after[strings.Index(after, "Strip"):] ||
			!strings.Contains(after, "Band:grey") {
			t.Errorf("before the reload: %s\nafter it: %s", before, after)
		}
		tab.Do(t, click("#step-save .step-name"))
		if noted := browsertest.Found[string](t, tab, `document.getElementById("save-note").value`); noted != "glass wiped" || !browsertest.Found[bool](t, tab, `document.querySelector('#save-signs [value="gasping"]').checked`) {
			t.Errorf("noted is %q", noted)
		}
	})
	t.Run("by hand", func(t *testing.T) {
		tab.goTo(t, "/tank/hall/read")
		tab.Do(t, fill(rowField(2, "thickness"), "12"), fill(rowField(2, "hex"), "#8b5e3c"), click(`#hand [name="sign"][value="gasping"]`))
		tab.choose(t, rowField(2, "band"), "rust")
		tab.reload(t)
		tab.until(t, `!document.getElementById("restored").hidden`)
		for field, want := range map[string]string{"thickness": "12", "hex": "#8b5e3c", "band": "rust"} {
			if typed := browsertest.Found[string](t, tab, fmt.Sprintf(`document.querySelector(%q).value`, rowField(2, field))); typed != want {
				t.Errorf("the %s is %q after a reload, want %q", field, typed, want)
			}
		}
		if !browsertest.Found[bool](t, tab, `document.querySelector('#hand [name="sign"][value="gasping"]').checked`) {
			t.Error("the sign is not there after a reload")
		}
		tab.until(t, drawnAre(1))
		tab.Do(t, fill(rowField(1, "thickness"), "9"), fill(rowField(1, "hex"), "#d5c8a5"))
		tab.leads(t, click(`#hand [value="save"]`))
		tab.goTo(t, "/tank/hall/read")
		if !browsertest.Found[bool](t, tab, `document.getElementById("restored").hidden && document.querySelector('[name="thickness"]').value == ""`) {
			t.Error("what was kept comes back as a draft")
		}
	})
	wantQuiet(t, tab)
}

// Of two tabs that save the same core the second is told so, and what it has stays; the
// first one's core is untouched until the second says what is to become of it.
func TestServe_twoTabs(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s, truth := hallAnd(t, "buff-sand.jpg")
	one, two := enter(t, browser, s.served, look(1280, 900, "light")), enter(t, browser, s.served, look(1280, 900, "light"))
	t.Run("by hand", func(t *testing.T) {
		for i, tab := range []*tab{one, two} {
			tab.goTo(t, "/tank/hall/read")
			tab.Do(t, fill(rowField(1, "thickness"), fmt.Sprint(10+i)), fill(rowField(1, "hex"), "#8b5e3c"))
		}
		one.leads(t, click(`#hand [value="save"]`))
		first := s.says(t, "export")
		two.leads(t, click(`#hand [value="save"]`))
		if told := two.text(t, "#wrong"); !strings.Contains(told, "There is a core of front") || !strings.Contains(told, "Nothing was saved") {
			t.Errorf("told %q", told)
		}
		if typed := browsertest.Found[string](t, two, fmt.Sprintf(`document.querySelector(%q).value`, rowField(1, "thickness"))); typed != "11" {
			t.Errorf("typed is %q after a conflict, want 11", typed)
		}
		if s.says(t, "export") != first {
			t.Error("the first tab's core was changed")
		}
		two.Do(t, fill(`#hand [name="station"]`, "left"))
		two.leads(t, click(`#hand [value="save"]`))
		if now := s.says(t, "export"); !strings.Contains(now, `"thickness_mm": 10`) || !strings.Contains(now, `"thickness_mm": 11`) {
			t.Errorf("not both are there: %s", now)
		}
	})
	t.Run("amend", func(t *testing.T) {
		for i, tab := range []*tab{one, two} {
			tab.goTo(t, "/tank/hall/core/front/2026-11-25")
			tab.Do(t, fill(rowField(1, "thickness"), fmt.Sprint(20+i)))
		}
		one.leads(t, click(`#hand [value="save"]`))
		two.leads(t, click(`#hand [value="save"]`))
		if told := two.text(t, "#wrong"); !strings.Contains(told, "changed elsewhere") {
			t.Errorf("told %q", told)
		}
		if now := s.says(t, "export"); !strings.Contains(now, `"thickness_mm": 20`) || strings.Contains(now, `"thickness_mm": 21`) {
			t.Errorf("the first tab's core was changed: %s", now)
		}
		two.leads(t, click(`#hand [value="save"]`))
		if now := s.says(t, "export"); !strings.Contains(now, `"thickness_mm": 21`) {
			t.Errorf("the second tab's core is not there: %s", now)
		}
	})
	t.Run("photo", func(t *testing.T) {
		two.goTo(t, "/photo?tank=hall&station=front")
		two.choosePhoto(t, truth.Path())
		two.markPhoto(t, mouse{}, truth.Picks)
		two.press(t, mouse{}, "#layers-next")
		before := s.says(t, "export")
		two.Do(t, click("#save-go"))
		two.until(t, `!document.getElementById("save-replace").hidden`)
		if told := two.text(t, "#save-fault"); !strings.Contains(told, "front") || !strings.Contains(told, "2026-11-25") {
			t.Errorf("told %q", told)
		}
		if s.says(t, "export") != before {
			t.Error("the core that was there was changed")
		}
		two.leads(t, click("#save-replace"))
		if now := coreExported(t, s, 0); !strings.Contains(now, `"photo"`) {
			t.Errorf("the photo's core is not there: %s", now)
		}
	})
	for i, tab := range []*tab{one, two} {
		for _, fault := range browsertest.Quiet(t, tab.Tab, "status of 409") {
			t.Errorf("tab %d: %s", i+1, fault)
		}
	}
}

// Of two tabs on one photo that is not saved yet, the one whose marks are not the latest is told
// so, when it comes to the front and at whatever it does, and loads those of the other or puts
// its own in their place; nothing is changed or saved unawares. After one has saved the other is
// told of it.
func TestServe_twoTabsOnADraft(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s, truth := hallAnd(t, "buff-sand.jpg")
	one, two := enter(t, browser, s.served, look(1280, 900, "light")), enter(t, browser, s.served, look(1280, 900, "light"))
	one.goTo(t, "/photo?tank=hall")
	one.choosePhoto(t, truth.Path())
	one.markPhoto(t, mouse{}, truth.Picks)
	draft := one.at(t)
	const stale = `document.getElementById("photo-stale").checkVisibility()`
	front := chromedp.Evaluate[chromedp.Void](`window.dispatchEvent(new Event("focus"))`)
	noted := func(tab *tab, note string) {
		t.Helper()
		tab.Do(t, fill("#save-note", note))
	}
	kept := func(note string) {
		t.Helper()
		one.until(t, fmt.Sprintf(`(() => {
			const r = new XMLHttpRequest()
			r.open("GET", %q, false)
			r.setRequestHeader("Accept", "application/json")
			r.send()
			return JSON.parse(r.response).state.note === %q
		})()`, draft+"/state", note))
	}
	for _, tab := range []*tab{one, two} {
		if tab == two {
			two.goTo(t, draft)
			two.until(t, `document.getElementById("handle-edge-1")`)
		}
		tab.Do(t, click("#step-save .step-name"))
	}
	noted(one, "of one") // opening the second changed nothing
	kept("of one")

	two.Do(t, front)
	two.until(t, stale)
	noted(two, "of two, unawares")
	two.Do(t, click("#save-go"))
	two.Drawn(t)
	kept("of one")
	two.leads(t, click("#photo-stale-load"))
	two.until(t, `document.getElementById("save-note").value === "of one"`)
	two.until(t, `document.getElementById("handle-edge-1")`)
	two.Do(t, click("#step-save .step-name"))
	noted(two, "of two")
	kept("of two")

	noted(one, "of one again")
	one.until(t, stale)
	if *browsertest.Shots != "" {
		one.Shoot(t, filepath.Join(*browsertest.Shots, "serve-photo-stale"))
	}
	kept("of two")
	one.Do(t, click("#photo-stale-mine"))
	kept("of one again")
	if browsertest.Found[bool](t, one, stale) {
		t.Error("who keeps the marks of this tab is told still")
	}
	one.Do(t, click("#step-save .step-name"))
	one.leads(t, click("#save-go"))
	if core := coreExported(t, s, 0); !strings.Contains(core, `"of one again"`) {
		t.Errorf("saved %s", core)
	}

	two.Do(t, front)
	two.until(t, `document.getElementById("photo-gone").checkVisibility()`)
	if told := two.text(t, "#photo-gone"); !strings.Contains(told, "it was saved as the reading of front on") || !strings.Contains(told, "not in that tab is lost") {
		t.Errorf("told %q", told)
	}
	two.leads(t, click("#photo-gone-to"))
	if at := two.at(t); !strings.HasPrefix(at, "/tank/hall/core/front/") {
		t.Errorf("what was saved is at %s", at)
	}
	for _, tab := range []*tab{one, two} {
		wantQuiet(t, tab, "status of 409", "status of 404")
	}
}
