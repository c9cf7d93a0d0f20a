package serve_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/url"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/programtest"
)

// A photo is read by the mouse from the tank's page to the saved core. What the page is
// told of it is what the command prints by the same marks, and what is saved is what was
// seen last.
func TestServe_photoByMouse(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s, truth := hallAnd(t, "buff-sand.jpg")
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.leads(t, click(`a[href="/tank/hall"]`))
	tab.leads(t, click(`a[href="/photo?tank=hall"]`))
	tab.choosePhoto(t, truth.Path())
	tab.markPhoto(t, mouse{}, truth.Picks)
	q, seen := seenOf(t, tab, func(q photoQuestion) bool {
		return q.Picks.Surface > truth.Picks.Surface-2 && q.Picks.Surface < truth.Picks.Surface+2
	})
	if diff := cmp.Diff(normal(t, []byte(asPlain(t, q, truth))), normal(t, seen.Read)); diff != "" {
		t.Errorf("what the command reads (-) and what the page is told (+):\n%s", diff)
	}

	before := seen
	if seen = tab.moveEdge(t, mouse{}, seen, 1, 15); bytes.Equal(seen.Read, before.Read) {
		t.Error("a moved edge changes nothing")
	}
	tab.choose(t, "#layers-list .layer:nth-child(3) select", "grey")
	_, seen = seenOf(t, tab, func(q photoQuestion) bool { return len(q.Cuts) > 0 && q.Cuts[2].Band == "grey" })
	tab.press(t, mouse{}, "#layers-next")
	tab.leads(t, click("#save-go"))
	if at := tab.at(t); at != "/tank/hall" {
		t.Fatalf("at %s after saving", at)
	}
	savedIs(t, s, seen)
	wantQuiet(t, tab)
}

// hallAnd serves a tank whose substrate is that of a photo.
func hallAnd(t *testing.T, photo string) (stand, programtest.PhotoTruth) {
	t.Helper()
	truths := programtest.PhotoTruths(t)
	truth := truths[slices.IndexFunc(truths, func(p programtest.PhotoTruth) bool { return p.File == photo })]
	return standing(t, []string{"tank", "add", "hall", "--native", truth.Native + "," + truth.Kind}), truth
}

// hallReadBefore is the page before a tank whose station front was read from its photo on an earlier day.
func hallReadBefore(t *testing.T) (programtest.PhotoTruth, *tab) {
	t.Helper()
	browser := browsertest.Start(t)
	s, truth := hallAnd(t, "buff-sand.jpg")
	s.says(t, "photo", truth.Path(), "--tank", "hall", "--station", "front", "--date", "2026-01-01",
		"--strip", programtest.Joined(truth.Picks.Strip[:]), "--ruler", programtest.Joined(truth.Picks.Ruler[:])+"mm")
	return truth, enter(t, browser, s.served, look(1280, 900, "light"))
}

// openHall opens a photo of testdata on the page, as one of such a tank.
func openHall(t *testing.T, photo string) (stand, programtest.PhotoTruth, *tab) {
	t.Helper()
	s, truth := hallAnd(t, photo)
	tab := enter(t, browsertest.Start(t), s.served, look(1280, 900, "light"))
	tab.goTo(t, "/photo?tank=hall")
	tab.choosePhoto(t, truth.Path())
	return s, truth, tab
}

// asPlain is what the command prints of the question, in a logbook of its own.
func asPlain(t *testing.T, q photoQuestion, truth programtest.PhotoTruth) string {
	t.Helper()
	other := stand{logbook: filepath.Join(t.TempDir(), "logbook.db")}
	other.says(t, "tank", "add", "hall", "--native", truth.Native+","+truth.Kind)
	return other.says(t, q.args(truth.Path())...)
}

// normal is a JSON text in one form: by lines, the numbers as they stand.
func normal(t *testing.T, text []byte) string {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	var value any
	if err := d.Decode(&value); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	lines, err := json.MarshalIndent(value, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(lines)
}

// savedIs: the core that the commands show is the one that was seen on the page.
func savedIs(t *testing.T, s stand, seen photoSeen) {
	t.Helper()
	var read map[string]any
	if err := json.Unmarshal(seen.Read, &read); err != nil {
		t.Fatal(err)
	}
	delete(read, "photo") // the photo itself tells these
	want, err := json.Marshal(read)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(normal(t, want), normal(t, []byte(s.says(t, "core", "show", "hall", "--json")))); diff != "" {
		t.Errorf("what was seen last (-) and what was saved (+):\n%s", diff)
	}
}

// On a phone on its side, and on a small screen at 200 %, the photo stands beside its steps, and
// leaves half of the height at least where it stands above them.
func TestServe_photoOnLowScreens(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := serve(t, "--demo")
	s.send("/tank/new", s.proof(), url.Values{"name": {"Dry jar"}})
	for _, l := range []browsertest.Look{look(844, 390, "light"), look(640, 400, "light"), look(320, 256, "light")} {
		tab := enter(t, browser, s, l)
		tab.goTo(t, "/photo?tank=dry-jar")
		tab.choosePhoto(t, programtest.PhotoTruths(t)[0].Path())
		tab.until(t, `!document.getElementById("photo-save").hidden || !document.getElementById("photo-asked").hidden`)
		tab.Drawn(t)
		type box struct{ Left, Right, Top, Bottom float64 }
		of := func(selector string) box {
			return browsertest.Found[box](t, tab, fmt.Sprintf(`(({left, right, top, bottom}) => ({left, right, top, bottom}))(document.querySelector(%q).getBoundingClientRect())`, selector))
		}
		stand, guide := of(".stand"), of(".guide")
		switch beside := stand.Right <= guide.Left; {
		case beside != (l.Width > 600):
			t.Errorf("%v: the photo at %v, its steps at %v", l, stand, guide)
		case beside && stand.Bottom-stand.Top > float64(l.Height):
			t.Errorf("%v: the photo with what is around it takes %g px", l, stand.Bottom-stand.Top)
		case !beside && browsertest.Found[string](t, tab, `getComputedStyle(document.querySelector(".stand")).position`) == "sticky":
			t.Errorf("%v: the photo stays above its steps", l)
		}
		if wide := browsertest.Found[float64](t, tab, `document.documentElement.scrollWidth - innerWidth`); wide > 0 {
			t.Errorf("%v: %g px too wide", l, wide)
		}
		tab.Do(t, click("#step-save .step-name"))
		tab.Drawn(t)
		if step := of("#step-save .step-name"); step.Top < 0 || step.Bottom > float64(l.Height) {
			t.Errorf("%v: the step that was opened is at %v", l, step)
		}
		if *browsertest.Shots != "" {
			browsertest.Save(t, filepath.Join(*browsertest.Shots, fmt.Sprintf("low-save-%d.png", l.Width)), tab.Seen(t))
			tab.goTo(t, "/photo?tank=dry-jar")
			tab.openRead(t, s.visitor)
			browsertest.Save(t, filepath.Join(*browsertest.Shots, fmt.Sprintf("low-layers-%d.png", l.Width)), tab.Seen(t))
		}
	}
}

// A photo that was not saved is thrown away by a second press only, on a button that says what is
// lost.
func TestServe_photoThrownAway(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s, truth := hallAnd(t, "buff-sand.jpg")
	tab := enter(t, browser, s.served, look(390, 844, "light"), asPhone...)
	tab.goTo(t, "/photo?tank=hall")
	tab.choosePhoto(t, truth.Path())
	tab.goTo(t, "/photo")
	tab.press(t, finger{}, ".throw summary")
	tab.until(t, `document.querySelector(".throw button").checkVisibility()`)
	tab.reload(t)
	tab.press(t, finger{}, ".throw summary")
	tab.leads(t, tab.pressing(t, finger{}, ".throw button"))
	if !browsertest.Found[bool](t, tab, `document.querySelector(".drafts") === null && document.querySelector(".said").textContent.includes("thrown away")`) {
		t.Error("the photo is still there")
	}
	wantQuiet(t, tab)
}

// A place typed in other letters than the tank's own is no second place unnoticed: the known one
// is offered, before the photo is sent and before it is saved.
func TestServe_photoPlaceInOtherLetters(t *testing.T) {
	t.Parallel()
	_, tab := hallReadBefore(t)
	offers := func(field, typed, offered string) {
		t.Helper()
		tab.Do(t, fill(field, typed))
		if got := browsertest.Found[string](t, tab, fmt.Sprintf(`(e => e.checkVisibility() ? e.querySelector("button").textContent : "")(document.querySelector(%q))`, field+" ~ .known")); got != offered {
			t.Errorf("for %q the page offers %q, want %q", typed, got, offered)
		}
	}
	tab.goTo(t, "/photo?tank=hall")
	for _, field := range []string{"#photo-station", "#save-station"} {
		if field == "#save-station" {
			tab.choosePhoto(t, programtest.Photos+"/sand.jpg")
			tab.Do(t, click("#step-save .step-name"))
		}
		if browsertest.Found[string](t, tab, fmt.Sprintf(`document.querySelector(%q).autocapitalize`, field)) != "none" {
			t.Errorf("%s: a phone begins it with a capital", field)
		}
		offers(field, "left", "")
		offers(field, "front", "")
		offers(field, "Front", "Use front")
		tab.press(t, mouse{}, field+" ~ .known button")
		tab.has(t, field)
		if value := browsertest.Found[string](t, tab, fmt.Sprintf(`document.querySelector(%q).value`, field)); value != "front" || browsertest.Found[bool](t, tab, fmt.Sprintf(`document.querySelector(%q).checkVisibility()`, field+" ~ .known")) {
			t.Errorf("%s: %q was taken", field, value)
		}
	}
	seenAs := func(q photoQuestion) bool { return q.Station == "front" }
	exchange(t, tab, "/read", seenAs)
	wantQuiet(t, tab)
}

// Nobody is told to do what can't be done: fingers drop no photo, and without JavaScript none is
// chosen, which the page says.
func TestServe_photoStartOffersWhatGoes(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s, truth := hallAnd(t, "buff-sand.jpg")
	seen := func(tab *tab, selector string) bool {
		return browsertest.Found[bool](t, tab, fmt.Sprintf(`document.querySelector(%q)?.checkVisibility() ?? false`, selector))
	}
	phone := enter(t, browser, s.served, look(390, 844, "light"), asPhone...)
	phone.goTo(t, "/photo?tank=hall")
	if seen(phone, ".drop-words") || !seen(phone, ".choose-file") {
		t.Error("on a phone the page asks for a photo to be dropped, or offers no other way")
	}
	desk := enter(t, browser, s.served, look(1280, 900, "light"))
	desk.goTo(t, "/photo?tank=hall")
	if !seen(desk, ".drop-words") || !seen(desk, ".choose-file") {
		t.Error("with a mouse the page does not say that a photo may be dropped or chosen")
	}
	desk.choosePhoto(t, truth.Path())
	if _, err := chromedp.Call(desk, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		t.Fatal(err)
	}
	reader := desk.at(t)
	for _, page := range []string{"/photo?tank=hall", reader} {
		desk.goTo(t, page)
		if seen(desk, ".choose-file") || seen(desk, ".reader") || !seen(desk, "noscript .fault") {
			t.Errorf("%s without JavaScript offers what does nothing, or says nothing of it", page)
		}
	}
}
