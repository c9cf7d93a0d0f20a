package serve_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/programtest"
)

// All that the page shows can be read and used: wide and on a phone, in light and in dark,
// by keys and by finger, with what is wrong told and with what was found.
func TestServe_looks(t *testing.T) {
	for about, views := range map[string][]servedView{"tanks": tankViews(), "by hand": handViews(), "photos": photoViews()} {
		t.Run(about, func(t *testing.T) {
			t.Parallel()
			browser := browsertest.Start(t)
			s := serve(t, "--demo")
			s.send("/tank/new", s.proof(), url.Values{"name": {"Dry jar"}})
			for _, v := range views {
				t.Run(v.name, func(t *testing.T) { v.check(t, browser, s) })
			}
		})
	}
	t.Run("nothing", func(t *testing.T) {
		t.Parallel()
		servedView{name: "none", path: "/"}.check(t, browsertest.Start(t), standing(t).served)
	})
}

// servedView is something that the page shows.
type servedView struct {
	name, path string
	then       func(*testing.T, *tab, *served) // nil: as it comes
	expected   string                          // what the browser complains of; empty: nothing
}

// check puts a view to all checks.
func (v servedView) check(t *testing.T, browser context.Context, s *served) {
	tab := enter(t, browser, s, browsertest.Looks[0])
	tell := func(about any, faults []string) {
		t.Helper()
		for _, fault := range faults {
			t.Errorf("%v: %s", about, fault)
		}
	}
	for _, l := range browsertest.Looks {
		tab.Look(t, l, how(l)...)
		if l.Scheme == "light" {
			v.show(t, tab, s)
			tell(l, browsertest.Quiet(t, tab.Tab, v.expected))
			tab.Do(t, chromedp.Evaluate[chromedp.Void](browsertest.Axe(t)))
		}
		if *browsertest.Shots != "" {
			tab.Shoot(t, filepath.Join(*browsertest.Shots, fmt.Sprintf("serve-%s-%d-%s", v.name, l.Width, l.Scheme)))
		}
		tell(l, browsertest.Legible(t, tab.Tab))
	}
	tell("by finger", browsertest.Touchable(t, tab.Tab))
	tell("on a phone", browsertest.FitsPhones(t, tab.Tab, asPhone...))
	tell("by keys", browsertest.ByKeyboard(t, tab.Tab, "#main"))
}

// how is as a phone where it is as narrow as one.
func how(l browsertest.Look) []chromedp.EmulateViewportOption {
	if l.Width < 500 {
		return asPhone
	}
	return nil
}

// show opens the view.
func (v servedView) show(t *testing.T, tab *tab, s *served) {
	t.Helper()
	tab.goTo(t, v.path)
	if v.then != nil {
		v.then(t, tab, s)
	}
}

func tankViews() []servedView {
	return []servedView{
		{name: "overview", path: "/"},
		{name: "tank", path: "/tank/wheel-room", then: newestIsSeen},
		{name: "tank-photo", path: "/tank/sack-hoist", then: newestIsSeen},
		{name: "tank-urgent", path: "/tank/loft-jar", then: newestIsSeen},
		{name: "tank-settle", path: "/", then: func(t *testing.T, tab *tab, s *served) {
			siphoned(s)
			tab.goTo(t, "/tank/dry-jar")
			if told := tab.text(t, "#settle ~ .question"); !strings.Contains(told, "Was it siphoned?") {
				t.Errorf("it asks %q", told)
			}
		}},
		{name: "tank-coreless", path: "/tank/dry-jar"},
		{name: "tank-wrong", path: "/tank/sack-hoist", expected: "status of 422", then: func(t *testing.T, tab *tab, _ *served) {
			tab.Do(t, click(`#water ~ .add summary`), fill(`#water ~ .add [name="ph"]`, "sour"))
			tab.leads(t, click(`#water ~ .add .main`))
		}},
		{name: "tank-new-wrong", path: "/tank/new", expected: "status of 422", then: func(t *testing.T, tab *tab, _ *served) {
			tab.leads(t, click("main .main"))
		}},
		{name: "tank-new-asked", path: "/tank/new", then: func(t *testing.T, tab *tab, _ *served) {
			tab.Do(t, fill("#tank-name", "Tray"), click(`[name="shape"][value="box"]`), fill("#tank-length", "600"), fill("#tank-width", "300"), fill("#tank-water_depth", "28"))
			tab.leads(t, click("main .main"))
		}},
		{name: "tank-edit", path: "/tank/loft-jar/edit", then: func(t *testing.T, tab *tab, _ *served) {
			tab.Do(t, click(".limits summary"))
		}},
		{name: "rehearse", path: "/tank/loft-jar/rehearse"},
		{name: "rehearse-forbidden", path: "/tank/loft-jar/rehearse?method=stir"},
		{name: "rehearse-lacking", path: "/tank/sack-hoist/rehearse"},
		{name: "keep", path: "/keep"},
		{name: "missing", path: "/tank/nowhere", expected: "status of 404"},
	}
}

// siphoned files two readings of the dry jar between which the mulm went, the later one first,
// so that neither is questioned as it is filed.
func siphoned(s *served) {
	for _, core := range []struct{ date, mulm string }{{"2026-11-20", "12"}, {"2026-10-20", "42"}} {
		s.send("/tank/dry-jar/read", s.proof(), url.Values{
			"station": {"front"}, "date": {core.date}, "do": {"save"}, "thickness": {core.mulm, "20", "80"}, "hex": {"#8b6a48", "#3d3c35", "#d5c8a5"},
		})
	}
}

// newestIsSeen: the timeline shows the newest core without being scrolled.
func newestIsSeen(t *testing.T, tab *tab, _ *served) {
	t.Helper()
	if !browsertest.Found[bool](t, tab, `(() => {
		const pane = document.getElementById("timeline").getBoundingClientRect()
		const newest = document.querySelector("#timeline [tabindex='0']").getBoundingClientRect()
		return newest.left >= pane.left && newest.right <= pane.right})()`) {
		t.Error("the newest core is not seen on the timeline")
	}
}

// askedOf types a bed of the wheel room from the floor up and saves it: the question has the
// keys.
func askedOf(t *testing.T, tab *tab) {
	t.Helper()
	for i, row := range [][2]string{{"34", "#d2c2a6"}, {"15", "#6b6658"}, {"18", "#3f3c35"}, {"4", "#9f6b35"}, {"14", "#50402e"}, {"33", "#866643"}} {
		tab.Do(t, fill(rowField(i+1, "thickness"), row[0]), fill(rowField(i+1, "hex"), row[1]))
	}
	tab.leads(t, click(`#hand [value="save"]`))
	tab.has(t, "#asked")
}

func handViews() []servedView {
	save := `#hand [value="save"]`
	return []servedView{
		{name: "hand", path: "/tank/wheel-room/read"},
		{name: "hand-wrong", path: "/tank/dry-jar/read", expected: "status of 422", then: func(t *testing.T, tab *tab, _ *served) {
			tab.Do(t, fill(rowField(1, "thickness"), "12"), fill(rowField(1, "hex"), "#8b5e3c"), fill(rowField(2, "thickness"), "much"), fill(rowField(2, "hex"), "brown"))
			tab.leads(t, click(save))
		}},
		{name: "hand-taken", path: "/tank/wheel-room/read", expected: "status of 409", then: func(t *testing.T, tab *tab, _ *served) {
			tab.Do(t, chromedp.SetValue(chromedp.CSS(`#hand [name="date"]`), "2026-11-01"), fill(rowField(1, "thickness"), "12"), fill(rowField(1, "hex"), "#8b5e3c"))
			tab.leads(t, click(save))
		}},
		{name: "hand-asked", path: "/tank/wheel-room/read", then: func(t *testing.T, tab *tab, _ *served) { askedOf(t, tab) }},
		{name: "hand-mended", path: "/tank/wheel-room/read", then: func(t *testing.T, tab *tab, _ *served) {
			askedOf(t, tab)
			tab.leads(t, click(`#asked [value="turned-over"]`))
		}},
		{name: "hand-colours", path: "/tank/wheel-room/read", then: func(t *testing.T, tab *tab, _ *served) {
			tab.Do(t, click(`#rows .row:nth-child(1) .at-hand`))
		}},
		{name: "amend", path: "/tank/wheel-room/core/front/2026-11-01"},
		{name: "amend-photo", path: "/tank/sack-hoist/core/front/2026-11-01"},
	}
}

func photoViews() []servedView {
	const start = "/photo?tank=dry-jar"
	return []servedView{
		{name: "photo-start", path: start},
		{name: "photo-ruler", path: start, then: func(t *testing.T, tab *tab, _ *served) { tab.choosePhoto(t, programtest.PhotoTruths(t)[0].Path()) }},
		{name: "photo-layers", path: start, then: func(t *testing.T, tab *tab, s *served) { tab.openRead(t, s.visitor) }},
		{name: "photo-save-wrong", path: start, expected: "status of 422", then: func(t *testing.T, tab *tab, s *served) {
			tab.openRead(t, s.visitor)
			tab.Do(t, click("#step-save .step-name"), fill("#save-station", ""), click("#save-go"))
			tab.until(t, `document.getElementById("fault-station").textContent && document.activeElement.id == "save-station"`)
			tab.Drawn(t)
			if !browsertest.Found[bool](t, tab, `(() => {
				const fault = document.getElementById("fault-station"), r = fault.getBoundingClientRect()
				return fault.contains(document.elementFromPoint(r.left + 3, r.top + r.height / 2))})()`) {
				t.Error("the fault is not on the screen")
			}
		}},
		{name: "photo-asked", path: start, expected: "status of 409", then: func(t *testing.T, tab *tab, s *served) {
			s.send("/tank/dry-jar/read", s.proof(), url.Values{
				"station": {"front"}, "date": {"2026-10-20"}, "do": {"save"}, "thickness": {"140", "6"}, "hex": {"#8b6a48", "#3d3c35"},
			})
			tab.openRead(t, s.visitor)
			tab.Do(t, click("#step-save .step-name"), click("#save-go"))
			tab.until(t, `document.activeElement.id == "save-asked"`)
		}},
		{name: "photo-refused", path: start, expected: "status of 422", then: func(t *testing.T, tab *tab, s *served) {
			tab.openRead(t, s.visitor)
			tab.Do(t, click("#step-ruler .step-name"), fill("#ruler-length", "1"))
			tab.until(t, `!document.getElementById("photo-fault").hidden || document.getElementById("fault-length").textContent`)
		}},
		{name: "photo-drafts", path: start},
		{name: "photo-gone", path: "/photo/none", expected: "status of 404"},
	}
}

// openRead opens the demo's photo as it was read and not yet saved.
func (tab *tab) openRead(t *testing.T, v *visitor) {
	t.Helper()
	tab.choosePhoto(t, "../demo/photo.jpg")
	exchange(t, tab, "/read", func(photoQuestion) bool { return true }) // the page asks by what it knows
	answer := tab.askBeside(t, v, map[string]any{
		"tank": "dry-jar", "station": "front", "date": "2026-11-20", "picks": demoMarks, "confirmed": []string{"ruler", "card", "strip", "surface", "water"},
	})
	if answer != http.StatusOK {
		t.Fatalf("the demo's marks: %d, want them read", answer)
	}
	tab.reload(t)
	tab.until(t, `document.getElementById("handle-edge-1") && document.getElementById("photo-wait").hidden`)
}

// askBeside asks how the photo that is open reads by a question, as another tab that knows what the page sent last.
func (tab *tab) askBeside(t *testing.T, v *visitor, question any) (status int) {
	t.Helper()
	body, err := json.Marshal(question)
	if err != nil {
		t.Fatal(err)
	}
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) {
		r := v.request(http.MethodPost, tab.at(t)+"/read", v.proof(), "application/json", body)
		r.Header.Set("X-Panecore-Count", browsertest.Found[string](t, tab, `fetch(location.pathname + "/state").then(r => r.json()).then(s => String(s.count))`))
		answer, err := v.client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		if status = answer.StatusCode; status != http.StatusConflict && status != http.StatusAccepted {
			return status
		}
	}
	return status
}

// demoMarks are what is marked on the demo's photo.
var demoMarks = map[string]any{
	"ruler": map[string]any{"from": []float64{1397.6, 111.3}, "to": []float64{1398.6, 1025}, "length": "70mm"},
	"cards": []any{map[string]any{"box": []float64{90, 809, 166, 109}}},
	"strip": []float64{360, 355, 630, 715}, "surface": 355,
}
