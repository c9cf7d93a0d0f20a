package serve_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/programtest"
)

// cutQuestion is how the page asks a photo to be cut.
type cutQuestion struct {
	Surface float64 `json:"surface_mm"`
	Cuts    []struct {
		BottomMM float64 `json:"bottom_mm"`
		Band     string
	}
}

// A photo that was saved with its surface, an edge and a name where the keeper has them shows
// them when it is chosen again, and saving it with another note changes the note alone.
func TestServe_photoAgain(t *testing.T) {
	t.Parallel()
	s, truth, tab := openHall(t, "buff-sand.jpg")
	tab.markPhoto(t, mouse{}, truth.Picks)
	_, seen := seenOf(t, tab, func(q photoQuestion) bool { return q.Picks.Surface != 0 })
	seen = tab.moveEdge(t, mouse{}, seen, 1, 15)
	surface := seen.Edges[0]
	from := tab.on(t, surface[len(surface)/2])
	tab.Do(t, mouse{}.drag(from, place{from[0], from[1] + 8}))
	tab.choose(t, "#layers-list .layer:nth-child(4) select", "grey")
	before, _ := exchange(t, tab, "/read", func(q cutQuestion) bool { return q.Surface > 0 && len(q.Cuts) > 3 && q.Cuts[3].Band == "grey" })
	tab.press(t, mouse{}, "#layers-next")
	tab.Do(t, fill("#save-note", "first"))
	tab.leads(t, click("#save-go"))
	core := func() (saved map[string]any) {
		if err := json.Unmarshal([]byte(coreExported(t, s, 0)), &saved); err != nil {
			t.Fatal(err)
		}
		return saved
	}
	first := core()

	tab.goTo(t, "/photo?tank=hall")
	tab.choosePhoto(t, truth.Path())
	tab.until(t, `document.getElementById("handle-edge-1")`)
	if told := tab.text(t, "#photo-said"); !strings.Contains(told, "its marks, edges, names and notes are back") {
		t.Errorf("told %q", told)
	}
	after, _ := exchange(t, tab, "/read", func(cutQuestion) bool { return true })
	if diff := cmp.Diff(before, after, cmpopts.EquateApprox(0, 0.01)); diff != "" {
		t.Errorf("it is cut otherwise (-before +again):\n%s", diff)
	}
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`(() => {
		window.said = 0
		new MutationObserver(() => said++).observe(document.getElementById("photo-sum"), {childList: true})})()`))
	tab.Do(t, click("#step-save .step-name"), fill("#save-note", "second"))
	seenOf(t, tab, func(q photoQuestion) bool { return q.Note == "second" })
	tab.Drawn(t)
	if said := browsertest.Found[int](t, tab, `said`); said != 0 {
		t.Errorf("the same reading is said %d times more while a note is typed", said)
	}
	tab.leads(t, click("#save-go"))
	first["note"] = "second"
	if diff := cmp.Diff(first, core(), cmpopts.EquateApprox(0, 1e-9)); diff != "" { // but for the last digits of sums
		t.Errorf("saved again it is another core (-first +again):\n%s", diff)
	}
	wantQuiet(t, tab)
}

// Edges that the photo can't be cut at are refused in the layers' step, from where a link leads to
// the form for reading by hand, and can be put aside.
func TestServe_photoCutsRefused(t *testing.T) {
	t.Parallel()
	s, truth, tab := openHall(t, "buff-sand.jpg")
	exchange(t, tab, "/read", func(photoQuestion) bool { return true }) // the page asks by what it knows
	r := truth.Picks.Ruler
	answer := tab.askBeside(t, s.visitor, map[string]any{"cuts": []any{map[string]any{"bottom_mm": 1e4}, map[string]any{"bottom_mm": 2e4}}, "picks": map[string]any{
		"ruler": map[string]any{"from": r[:2], "to": r[2:4], "length": fmt.Sprint(r[4], "mm")}, "strip": truth.Picks.Strip, "surface": truth.Picks.Surface,
	}})
	if answer != http.StatusUnprocessableEntity {
		t.Fatalf("layers below the strip's foot: %d, want them refused", answer)
	}
	tab.reload(t)
	tab.until(t, `document.getElementById("layers-why").textContent.includes("found layer 2")`)
	if !browsertest.Found[bool](t, tab, `document.getElementById("layers-why").checkVisibility() && document.getElementById("photo-fault").hidden && document.getElementById("layers-none").hidden`) {
		t.Error("in the layers' step the refusal is not told there alone")
	}
	tab.Do(t, click("#step-strip .step-name"))
	tab.until(t, `document.getElementById("photo-fault").textContent.includes("found layer 2") && document.getElementById("photo-fault").checkVisibility()`)
	tab.Do(t, click("#step-save .step-name"))
	tab.choose(t, "#save-tank", "hall")
	tab.Do(t, fill("#save-station", "far left"), click("#step-layers .step-name"))
	tab.until(t, `document.getElementById("layers-by-hand").getAttribute("href") == "/tank/hall/read?station=far+left"`)
	tab.press(t, mouse{}, "#layers-anew")
	tab.until(t, `document.getElementById("handle-edge-1") && document.getElementById("photo-fault").hidden && document.getElementById("layers-refused").hidden`)
}

// What is being typed stays when the page learns of another place's marks meanwhile, and of two
// places asked for the later one counts, whichever is answered first.
func TestServe_photoPlaceAskedBeside(t *testing.T) {
	t.Parallel()
	_, tab := hallReadBefore(t)
	tab.goTo(t, "/photo?tank=hall&station=left")
	tab.choosePhoto(t, programtest.Photos+"/sand.jpg")
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`(() => { // each question for marks is held back until it is let go
		const was = window.fetch
		window.held = []
		window.fetch = async (to, how) => {
			if (String(to).includes("/found?")) await new Promise(go => window.held.push(go))
			return was(to, how)
		}})()`))
	tab.Do(t, click("#step-save .step-name"), fill("#save-station", "front"), click("#save-note"), chromedp.KeyEvent("roots at the foo"))
	tab.until(t, `held.length == 1`)
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`held.shift()()`))
	tab.until(t, `document.getElementById("photo-said").textContent.startsWith("No mark of the last photo was used")`)
	tab.Do(t, chromedp.KeyEvent("t"))
	if note := browsertest.Found[string](t, tab, `document.getElementById("save-note").value`); note != "roots at the foot" {
		t.Errorf("the note is %q", note)
	}
	exchange(t, tab, "/read", func(q photoQuestion) bool { return q.Note == "roots at the foot" }) // told before the field is left

	tab.Do(t, fill("#save-station", "left"), chromedp.Focus(chromedp.CSS("#save-note")))
	tab.until(t, `held.length == 1`)
	tab.Do(t, fill("#save-station", "front"), chromedp.Focus(chromedp.CSS("#save-note")))
	tab.until(t, `held.length == 2`)
	tab.Do(t, fill("#save-station", "right"), chromedp.Focus(chromedp.CSS("#save-note")))
	tab.until(t, `held.length == 3`)
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`held[2]()`))
	tab.until(t, `document.getElementById("photo").ariaBusy == "false" && document.getElementById("photo-said").textContent == ""`)
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`held[0](), held[1]()`), chromedp.Evaluate[chromedp.Void](`fetch("/static/web.css").then(r => r.text())`, chromedp.EvalAwaitPromise))
	tab.Drawn(t)
	if !browsertest.Found[bool](t, tab, `document.getElementById("photo-said").textContent == "" && document.getElementById("save-station").value == "right"`) {
		t.Error("an earlier place's answer took the place of the later one's")
	}
	wantQuiet(t, tab)
}

// Where there is a reading of that place and day the page says so, and Enter pressed once more
// replaces nothing: that is a button of its own.
func TestServe_photoTaken(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := serve(t, "--demo")
	s.send("/tank/new", s.proof(), url.Values{"name": {"Dry jar"}})
	tab := enter(t, browser, s, look(1280, 900, "light"))
	tab.goTo(t, "/photo?tank=sack-hoist")
	tab.openRead(t, s.visitor)
	tab.Do(t, click("#step-save .step-name"))
	tab.choose(t, "#save-tank", "wheel-room")
	tab.Do(t, chromedp.SetValue(chromedp.CSS("#save-date"), "2026-11-01"))
	tab.Do(t, chromedp.Focus(chromedp.CSS("#save-go")), enterKey)
	tab.until(t, `document.getElementById("save-asked").checkVisibility()`) // the photo is of another tank
	tab.has(t, "#save-asked")
	tab.Do(t, enterKey, enterKey)
	tab.tabTo(t, `#save-answers [value="none"]`)
	tab.Do(t, enterKey)
	tab.until(t, `document.getElementById("save-replace").checkVisibility()`)
	tab.has(t, "#save-fault")
	if told := tab.text(t, "#save-fault"); !strings.HasPrefix(told, "there is already a reading of front on 2026-11-01") {
		t.Errorf("told %q", told)
	}
	tab.Do(t, enterKey, enterKey)
	tab.Drawn(t)
	if at := tab.at(t); !strings.HasPrefix(at, "/photo/") {
		t.Fatalf("at %s: replaced unasked", at)
	}
	tab.tabTo(t, "#save-replace")
	tab.leads(t, enterKey)
	if at := tab.at(t); at != "/tank/wheel-room" {
		t.Errorf("at %s after saving", at)
	}
}

// Who marks anew by keys has the focus where the new mark is placed by keys.
func TestServe_photoAnewByKeys(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := serve(t, "--demo")
	s.send("/tank/new", s.proof(), url.Values{"name": {"Dry jar"}})
	tab := enter(t, browser, s, look(1280, 900, "light"))
	tab.goTo(t, "/photo?tank=dry-jar")
	tab.openRead(t, s.visitor)
	for _, step := range []struct{ name, anew string }{{"card", "#card-more"}, {"strip", "#strip-anew"}, {"ruler", "#ruler-anew"}} {
		tab.Do(t, chromedp.Focus(chromedp.CSS("#step-"+step.name+" .step-name")), enterKey)
		tab.tabTo(t, step.anew)
		tab.Do(t, enterKey)
		tab.has(t, "#"+step.name+"-place")
	}
}
