package serve_test

import (
	"fmt"
	"net"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
)

// anew serves a logbook again at the address that it was served at before, by another key.
func anew(t *testing.T, s stand) stand {
	t.Helper()
	_, port, err := net.SplitHostPort(s.host)
	if err != nil {
		t.Fatal(err)
	}
	s.stop()
	return stand{serve(t, "--logbook", s.logbook, "--addr", "127.0.0.1:"+port), s.logbook}
}

// value is what stands in a field.
func (tab *tab) value(t *testing.T, selector string) string {
	t.Helper()
	return browsertest.Found[string](t, tab, fmt.Sprintf(`document.querySelector(%q).value`, selector))
}

const restored = `!document.getElementById("restored").hidden`

// What was sent to a program that has ended is not forgotten when the next one keeps
// something else.
func TestServe_draftOutlastsALostSend(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t, []string{"tank", "add", "hall"})
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.goTo(t, "/tank/hall/read")
	tab.Do(t, fill(rowField(1, "thickness"), "33"), fill(rowField(1, "hex"), "#333333"), fill("#core-note", "an hour's work"))
	tab.until(t, drawnAre(1))

	s = anew(t, s)
	tab.Do(t, fill(rowField(1, "thickness"), "34"))
	tab.until(t, `document.querySelector("#drawn .whole").textContent.includes("still here, but could not be drawn: open the page with the full address")`)
	if left := browsertest.Found[string](t, tab, `(document.querySelector("#drawn svg")?.textContent ?? "") + document.querySelector("#rows .meaning").textContent`); left != "" {
		t.Errorf("what was typed before is still drawn: %s", left)
	}
	tab.leads(t, click(`#hand [value="save"]`))
	if told := tab.text(t, "body"); !strings.Contains(told, "open the page with the full address") {
		t.Errorf("told %q", told)
	}

	tab.Do(t, chromedp.Navigate(s.address))
	tab.goTo(t, "/tank/hall")
	tab.Do(t, click(`section[aria-labelledby="water"] summary`), fill("#water-ph", "7"))
	tab.leads(t, click(`form[action$="/water"] button.main`))
	if said := tab.text(t, ".said"); !strings.Contains(said, "The water test of") {
		t.Errorf("said %q", said)
	}
	tab.goTo(t, "/tank/hall/read")
	tab.until(t, restored)
	if got := tab.value(t, rowField(1, "thickness")) + ", " + tab.value(t, "#core-note"); got != "34, an hour's work" {
		t.Errorf("found %q", got)
	}
	tab.leads(t, click(`#hand [value="save"]`))
	tab.goTo(t, "/tank/hall/read?station=front")
	if browsertest.Found[bool](t, tab, restored) {
		t.Error("what was kept comes back as a draft")
	}
	wantQuiet(t, tab, "status of 403")
}

// Readings of two stations that are typed side by side keep a draft each.
func TestServe_draftOfEachStation(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t, []string{"tank", "add", "hall"})
	one, two := enter(t, browser, s.served, look(1280, 900, "light")), enter(t, browser, s.served, look(1280, 900, "light"))
	one.goTo(t, "/tank/hall/read?station=front")
	one.Do(t, fill(rowField(1, "thickness"), "11"), fill(rowField(1, "hex"), "#111111"))
	two.goTo(t, "/tank/hall/read?station=left")
	if browsertest.Found[bool](t, two, restored) {
		t.Error("the draft of another station comes up")
	}
	two.Do(t, fill(rowField(1, "thickness"), "22"), fill(rowField(1, "hex"), "#222222"))
	two.leads(t, click(`#hand [value="save"]`))
	one.reload(t)
	one.until(t, restored)
	if got := one.value(t, "#core-station") + " " + one.value(t, rowField(1, "thickness")); got != "front 11" {
		t.Errorf("found %q, want front 11", got)
	}

	// A draft goes with its form, also where that comes back with another station.
	one.Do(t, fill("#core-station", "right"), fill(rowField(2, "thickness"), "much"))
	one.leads(t, click(`#hand [value="save"]`))
	one.Do(t, fill(rowField(2, "thickness"), "5"), fill(rowField(2, "hex"), "#d5c8a5"))
	one.leads(t, click(`#hand [value="save"]`))
	if drafts := browsertest.Found[int](t, one, `Object.keys(localStorage).filter((key) => key.startsWith("panecore draft")).length`); drafts != 0 {
		t.Errorf("%d drafts are left of what was kept", drafts)
	}
	for _, fault := range append(browsertest.Quiet(t, one.Tab, "status of 422"), browsertest.Quiet(t, two.Tab)...) {
		t.Error(fault)
	}
}

// What is typed beside the colours of the reading before is there after a reload, which sends
// again what was sent for them; a fault that is told takes nothing back either.
func TestServe_draftAfterColours(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t, []string{"tank", "add", "hall"}, []string{"core", "add", "hall", "9mm #8b5e3c", "40mm #d5c8a5", "--station", "front", "--date", "2026-05-01"})
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.goTo(t, "/tank/hall/read")
	tab.Do(t, fill(rowField(1, "thickness"), "12"))
	tab.leads(t, click(`#hand [value="take"]`))
	tab.has(t, rowField(2, "thickness")) // where typing goes on
	tab.Do(t, chromedp.KeyEvent("41"))
	typed := func(when string) {
		t.Helper()
		tab.reload(t)
		tab.until(t, restored)
		for n, want := range []string{"12 #8b5e3c", "41 #d5c8a5"} {
			if got := tab.value(t, rowField(n+1, "thickness")) + " " + tab.value(t, rowField(n+1, "hex")); got != want {
				t.Errorf("layer %d is %q after a reload %s, want %q", n+1, got, when, want)
			}
		}
	}
	typed("after the colours")
	tab.Do(t, fill(rowField(1, "hex"), "brown"))
	tab.leads(t, click(`#hand [value="save"]`))
	tab.Do(t, fill(rowField(1, "hex"), "#8b5e3c"))
	typed("after a fault")
	tab.leads(t, click(`#hand [value="save"]`))
	if said := tab.text(t, ".said"); said != "The reading of front, 2026-11-25 is saved." {
		t.Errorf("said %q", said)
	}
	tab.goTo(t, "/tank/hall/read?station=front")
	if browsertest.Found[bool](t, tab, restored) {
		t.Error("what was kept comes back as a draft")
	}
	wantQuiet(t, tab, "status of 422")
}

// Typing begins in the first field that is empty: the name of a new tank, a layer's thickness.
// On a phone a keyboard would cover the layers, and there none has the focus.
func TestServe_focusWhereTypingBegins(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t, []string{"tank", "add", "hall"})
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.goTo(t, "/tank/new")
	tab.has(t, "#tank-name")
	tab.scripts(t, false)
	tab.goTo(t, "/tank/new")
	tab.has(t, "#tank-name")
	tab.scripts(t, true)
	tab.goTo(t, "/tank/hall/read")
	tab.has(t, rowField(1, "thickness"))
	tab.Do(t, chromedp.KeyEvent("12"))
	tab.reload(t)
	tab.until(t, restored)
	tab.has(t, rowField(2, "thickness"))
	tab = enter(t, browser, s.served, look(390, 844, "light"), asPhone...)
	tab.goTo(t, "/tank/hall/read")
	tab.has(t, "body")
}

// What was begun on the form of a tank is there after a reload, until it was kept.
func TestServe_draftOfATank(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t)
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.goTo(t, "/tank/new")
	tab.Do(t, fill("#tank-name", "Mill race"), click(`[name="shape"][value="cylinder"]`), fill("#tank-diameter", "300"),
		fill(`.native li:nth-child(2) [name="native_hex"]`, "#37302b"), click(".limits summary"), fill("#tank-limit_mulm_mm", "60"))
	tab.choose(t, "#tank-rooted", "yes")
	tab.reload(t)
	tab.until(t, restored)
	for selector, want := range map[string]string{
		"#tank-name": "Mill race", `[name="shape"]:checked`: "cylinder", "#tank-diameter": "300", "#tank-rooted": "yes",
		`.native li:nth-child(1) [name="native_hex"]`: "", `.native li:nth-child(2) [name="native_hex"]`: "#37302b",
		`.native li:nth-child(2) [data-picks]`: "#37302b", ".limits[open] #tank-limit_mulm_mm": "60",
	} {
		if got := tab.value(t, selector); got != want {
			t.Errorf("%s is %q after a reload, want %q", selector, got, want)
		}
	}
	tab.choose(t, `.native li:nth-child(2) [name="native_kind"]`, "soil")
	tab.Do(t, fill("#tank-water_depth", "deep"))
	tab.leads(t, click(".tank-form button.main"))
	tab.Do(t, fill("#tank-water_depth", "28cm"))
	tab.leads(t, click(".tank-form button.main"))
	if said := tab.text(t, ".said"); !strings.HasPrefix(said, "Mill race is saved.") {
		t.Errorf("said %q", said)
	}
	tab.goTo(t, "/tank/new")
	if browsertest.Found[bool](t, tab, restored) || tab.value(t, "#tank-name") != "" {
		t.Error("what was kept comes back as a draft")
	}
	tab.Do(t, fill("#tank-name", "Sluice"))
	tab.reload(t)
	tab.until(t, restored)
	tab.leads(t, click("#restored button"))
	if browsertest.Found[bool](t, tab, restored) || tab.value(t, "#tank-name") != "" {
		t.Error("what was to begin anew comes back")
	}
	wantQuiet(t, tab, "status of 422")
}

// Who presses a button twice has it done once: a core is kept and told as kept, and undo
// takes back nothing but what it said.
func TestServe_pressedTwice(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t, []string{"tank", "add", "hall"})
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.goTo(t, "/tank/hall/read")
	tab.Do(t, fill(rowField(1, "thickness"), "10"), fill(rowField(1, "hex"), "#8b5e3c"))
	tab.twice(t, `#hand [value="save"]`)
	if said, at := tab.text(t, ".said"), tab.at(t); said != "The reading of front, 2026-11-25 is saved." || at != "/tank/hall" {
		t.Errorf("said %q at %s", said, at)
	}
	tab.twice(t, ".undo button")
	if told := tab.text(t, "main"); !strings.Contains(told, "it was taken back before") {
		t.Errorf("told %q", told)
	}
	if now := s.says(t, "export"); !strings.Contains(now, `"hall"`) || strings.Contains(now, "2026-11-25") {
		t.Errorf("not just the core was taken back: %s", now)
	}
	wantQuiet(t, tab, "status of 409")
}

// twice sends a form twice, the second time while the first is being answered.
func (tab *tab) twice(t *testing.T, button string) {
	t.Helper()
	tab.leads(t, chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`(async () => {
		const button = document.querySelector(%q);
		const form = new FormData(button.form, button);
		await fetch(button.form.action, { method: "POST", body: new URLSearchParams(form), redirect: "manual" });
		button.click();
	})(); void 0`, button)))
}

// What only scripts make use of is not shown without them, nor colours at hand where there
// are none.
func TestServe_shownForScripts(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t, []string{"tank", "add", "hall"}, []string{"tank", "add", "laid", "--native", "#d5c8a5,sand,60mm,pale sand"})
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	for _, c := range []struct {
		path, of string
		scripts  bool
		want     bool
	}{
		{"/tank/hall/read", "#rows [data-picks]", true, true}, {"/tank/hall/read", "#rows [data-picks]", false, false},
		{"/tank/hall/read", ".keys", true, true}, {"/tank/hall/read", ".keys", false, false},
		{"/tank/laid/edit", "[data-picks]", true, true}, {"/tank/laid/edit", "[data-picks]", false, false},
		{"/tank/hall/read", "#rows .at-hand", true, false},
		{"/tank/laid/read", "#rows .at-hand", true, true}, {"/tank/laid/read", "#rows .at-hand", false, false},
	} {
		tab.scripts(t, c.scripts)
		tab.goTo(t, c.path)
		if shown := tab.shows(t, c.of); shown != c.want {
			t.Errorf("%s: %s is shown: %t (scripts: %t)", c.path, c.of, shown, c.scripts)
		}
	}
}

// scripts lets the pages that are opened from now on run scripts, or not.
func (tab *tab) scripts(t *testing.T, run bool) {
	t.Helper()
	if _, err := chromedp.Call(tab, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !run}); err != nil {
		t.Fatal(err)
	}
}

// shows reports whether the first element of a selector is laid out.
func (tab *tab) shows(t *testing.T, selector string) bool {
	t.Helper()
	return browsertest.Found[bool](t, tab, fmt.Sprintf(`document.querySelector(%q).getClientRects().length > 0`, selector))
}
