package web

import (
	"errors"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/web/forms"
	"panecore/reports/web/site"
)

// The colours of a small bed.
var (
	mulmHex  = palette.Color{R: 0x8b, G: 0x6a, B: 0x48}
	blackHex = palette.Color{R: 0x3d, G: 0x3c, B: 0x35}
	sandHex  = palette.Color{R: 0xd5, G: 0xc8, B: 0xa5}
)

// bedOf is a core of that bed.
func bedOf(day layers.Date, mulm, black, sand float64) layers.Core {
	return layers.Core{Station: "front", Date: day, Layers: []layers.Layer{
		{ThicknessMM: mulm, Color: mulmHex}, {ThicknessMM: black, Color: blackHex}, {ThicknessMM: sand, Color: sandHex},
	}}
}

// newJarServer is a page on a tank that was read twice, the last time a month ago.
func newJarServer(t *testing.T) *testPage {
	p := newTestServerOn(t, Options{Photos: &fakePhotos{}})
	today := p.store.today
	p.store.tanks = []layers.Tank{{
		ID: "jar", SetUp: today - 900, Native: []layers.Native{{Kind: layers.Sand, Color: sandHex}},
		Cores: []layers.Core{bedOf(today-61, 38, 20, 80), bedOf(today-31, 40, 20, 80)},
	}}
	return p
}

// rowsOf are layers as they are typed.
func rowsOf(list ...layers.Layer) (rows []layer) {
	for _, l := range list {
		rows = append(rows, layer{strconv.FormatFloat(l.ThicknessMM, 'f', -1, 64), l.Color.String()})
	}
	return rows
}

// newest is the tank's last core.
func (p *testPage) newest() layers.Core {
	cores := p.store.tanks[0].Cores
	return cores[len(cores)-1]
}

// thicknesses are those of a page's rows.
func thicknesses(page string) string {
	rows, _, _ := strings.Cut(page, `<template id="blank">`)
	var list []string
	for _, part := range strings.Split(rows, `<input name="thickness" value="`)[1:] {
		value, _, _ := strings.Cut(part, `"`)
		list = append(list, value)
	}
	return strings.Join(list, " ")
}

// A core with a slip is questioned before it is kept: nothing is lost, the answer mends the
// rows, and what is mended is kept only when that is asked for.
func TestCoreForm_asksAndMends(t *testing.T) {
	right := bedOf(0, 42, 20, 80).Layers
	tenfold := slices.Clone(right)
	tenfold[0].ThicknessMM *= 10
	for name, test := range map[string]struct {
		typed []layers.Layer
		told  string
		do    string
		after string
		want  string // thicknesses kept
	}{
		"turned over":      {layers.TurnedOver(right), "Was it typed from the floor up?", "turned-over", "The layers are turned over.", "42 20 80"},
		"depths":           {[]layers.Layer{{ThicknessMM: 42, Color: mulmHex}, {ThicknessMM: 62, Color: blackHex}, {ThicknessMM: 142, Color: sandHex}}, "typed as thicknesses?", "depths", "differences of the depths", "42 20 80"},
		"mm as cm":         {layers.Scaled(right, 10), "Was mm typed as cm?", "tenfold", "Every layer is a tenth as thick.", "42 20 80"},
		"cm as mm":         {layers.Scaled(right, 0.1), "Was cm typed as mm?", "tenth", "Every layer is ten times as thick.", "42 20 80"},
		"one layer's unit": {tenfold, "Was mm typed as cm in that layer?", "tenfold:0", "Layer 1 is a tenth as thick.", "42 20 80"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newJarServer(t)
			form := coreForm("front", fakeToday, rowsOf(test.typed...)...)
			form.Set("note", "at the glass")
			addRow(form, layer{}) // one that was left empty
			page := p.post("/tank/jar/read", form)
			p.want(page, http.StatusOK, test.told, `<button class="main" name="do" value="`+test.do+`">`, `name="do" value="none">It is right as it stands</button>`, ">at the glass</textarea>", "data-came", " autofocus")
			if got, want := thicknesses(page.Body.String()), strings.Join(form["thickness"], " "); got != want {
				t.Errorf("the rows are %q, want %q", got, want)
			}
			mark, _ := markOf(page)
			form.Set("asked", mark)
			form.Set("do", test.do)
			page = p.post("/tank/jar/read", form)
			p.want(page, http.StatusOK, test.after, "Nothing is saved yet", ">at the glass</textarea>", "<svg")
			if got := thicknesses(page.Body.String()); got != test.want {
				t.Errorf("mended to %q, want %q", got, test.want)
			}
			if _, asked := markOf(page); asked || len(p.store.past) > 0 {
				t.Error("a mend is asked about or kept at once")
			}
			mended := coreForm("front", fakeToday)
			for i, mm := range strings.Fields(test.want) {
				addRow(mended, layer{mm, right[i].Color.String()})
			}
			p.want(p.follow(p.post("/tank/jar/read", mended)), http.StatusOK, "The reading of front, 2026-11-01 is saved.")
			if core := p.newest(); core.Sure || !reflect.DeepEqual(core.Layers, right) {
				t.Errorf("kept %+v", core)
			}
		})
	}
}

// A keeper who says that a core is right has it kept, of the very core that was asked about.
func TestCoreForm_sure(t *testing.T) {
	p := newJarServer(t)
	form := coreForm("front", fakeToday, layer{"420", mulmHex.String()}, layer{"20", blackHex.String()}, layer{"80", sandHex.String()})
	mark, _ := markOf(p.post("/tank/jar/read", form))
	other := maps.Clone(form)
	other["thickness"] = []string{"420", "200", "80"}
	other.Set("asked", mark)
	other.Set("do", "none")
	if _, asked := markOf(p.post("/tank/jar/read", other)); !asked || len(p.store.past) > 0 {
		t.Error("the answer is taken for another core")
	}
	form.Set("asked", mark)
	form.Set("do", "none")
	for range 2 { // it may be sent twice
		p.want(p.follow(p.post("/tank/jar/read", form)), http.StatusOK, "The reading of front, 2026-11-01 is saved.")
	}
	if core := p.newest(); !core.Sure || len(p.store.past) != 1 {
		t.Errorf("kept %+v in %d changes, want a sure one in one", core, len(p.store.past))
	}
}

// Where an event is missing, the core is kept and the event entered, both once, and both can
// be taken back.
func TestCoreForm_entersWhatIsMissing(t *testing.T) {
	for name, test := range map[string]struct {
		typed []layers.Layer
		told  string
		do    string
		want  layers.EventKind
		said  string
	}{
		"a siphoning": {bedOf(0, 12, 20, 80).Layers, "Was it siphoned?", "removal", layers.EventSiphon, "A siphoning was entered for 2026-10-31"},
		"a top-up":    {append([]layers.Layer{{ThicknessMM: 50, Color: sandHex}}, bedOf(0, 40, 20, 80).Layers...), "Was substrate added?", "top-up", layers.EventTopUpSubstrate, "A top-up was entered for 2026-10-31"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newJarServer(t)
			form := coreForm("front", fakeToday, rowsOf(test.typed...)...)
			page := p.post("/tank/jar/read", form)
			p.want(page, http.StatusOK, test.told)
			mark, _ := markOf(page)
			form.Set("asked", mark)
			form.Set("do", test.do)
			for range 2 {
				p.want(p.follow(p.post("/tank/jar/read", form)), http.StatusOK, "The reading of front, 2026-11-01 is saved.", test.said, "Undo removes the event; undo again removes the reading.")
			}
			tank := p.store.tanks[0]
			if len(p.store.past) != 2 || len(tank.Events) != 1 || tank.Events[0].Kind != test.want || tank.Events[0].Date != p.store.today-1 || p.newest().Sure {
				t.Errorf("kept %+v and %+v in %d changes", p.newest(), tank.Events, len(p.store.past))
			}
		})
	}
}

// An event that another window has entered meanwhile is not entered a second time.
func TestCoreForm_eventEnteredElsewhere(t *testing.T) {
	p := newJarServer(t)
	form := coreForm("front", fakeToday, rowsOf(bedOf(0, 12, 20, 80).Layers...)...)
	mark, _ := markOf(p.post("/tank/jar/read", form))
	p.store.tanks[0].Events = []layers.Event{{Date: p.store.today - 9, Kind: layers.EventSiphon}}
	form.Set("asked", mark)
	form.Set("do", "removal")
	p.want(p.follow(p.post("/tank/jar/read", form)), http.StatusOK, "The reading of front, 2026-11-01 is saved.")
	if n := len(p.store.tanks[0].Events); n != 1 {
		t.Errorf("found %d events, want 1", n)
	}
}

// Where the event can't be entered the reading is kept all the same, and both are said.
func TestCoreForm_eventFails(t *testing.T) {
	p := newJarServer(t)
	form := coreForm("front", fakeToday, rowsOf(bedOf(0, 12, 20, 80).Layers...)...)
	mark, _ := markOf(p.post("/tank/jar/read", form))
	form.Set("asked", mark)
	form.Set("do", "removal")
	p.store.noEvent = errors.New("the disk is full")
	p.want(p.follow(p.post("/tank/jar/read", form)), http.StatusOK, "The reading of front, 2026-11-01 is saved. But the event could not be entered: the disk is full")
	if len(p.store.past) != 1 {
		t.Errorf("found %d changes, want 1", len(p.store.past))
	}
}

// A core that is amended is questioned beside the others, not beside itself; a conflict is
// told first.
func TestAmend_asks(t *testing.T) {
	p := newJarServer(t)
	core := p.newest()
	at := site.CoreAddress("jar", core.Station, core.Date)
	form := p.typedAgain("jar", core)
	form["thickness"] = []string{"4", "2", "8"}
	page := p.post(at, form)
	p.want(page, http.StatusOK, "Was cm typed as mm?", `value="tenth"`)
	mark, _ := markOf(page)
	form.Set("asked", mark)
	form.Set("do", "tenth")
	page = p.post(at, form)
	p.want(page, http.StatusOK, "Every layer is ten times as thick.")
	if got := thicknesses(page.Body.String()); got != "40 20 80" || len(p.store.past) > 0 {
		t.Errorf("mended to %q", got)
	}

	p.store.tanks[0].Cores[1].Note = "the other's"
	form.Set("do", "save")
	page = p.post(at, form)
	p.want(page, http.StatusConflict, "changed elsewhere")
	if _, asked := markOf(page); asked {
		t.Error("two things are asked at once")
	}
	form.Set("seen", site.CoreMark(p.newest()))
	form.Set("do", "none")
	for range 2 {
		p.want(p.follow(p.post(at, form)), http.StatusOK, "is amended")
	}
	if core := p.newest(); !core.Sure || core.Layers[0].ThicknessMM != 4 || len(p.store.past) != 1 {
		t.Errorf("kept %+v in %d changes", core, len(p.store.past))
	}
}

// What can't be read is told before anything is mended, and an answer that makes no sense
// changes nothing.
func TestCoreForm_mendFaults(t *testing.T) {
	p := newJarServer(t)
	form := coreForm("front", fakeToday, layer{"12", mulmHex.String()}, layer{"much", blackHex.String()})
	form.Set("do", "turned-over")
	p.want(p.post("/tank/jar/read", form), http.StatusUnprocessableEntity, `value="much"`)
	form["thickness"] = []string{"12", "7"}
	form.Set("do", "depths")
	p.want(p.post("/tank/jar/read", form), http.StatusUnprocessableEntity, "depths count down from the bed surface", `value="7"`)
	form.Set("do", "tenfold:9")
	p.want(p.post("/tank/jar/read", form), http.StatusUnprocessableEntity, "found layer 10", `value="7"`)
	if len(p.store.past) > 0 {
		t.Error("kept all the same")
	}
}

// While a core is typed its question stands in the preview, softly; not before as much was
// typed as there was the last time.
func TestPreview_asks(t *testing.T) {
	p := newJarServer(t)
	rows := rowsOf(layers.TurnedOver(bedOf(0, 42, 20, 80).Layers)...)
	const told = "Was it typed from the floor up?"
	page := p.post("/tank/jar/preview", coreForm("front", fakeToday, rows...))
	p.want(page, http.StatusOK, `<p class="soft">The core of front on 2026-11-01`, told)
	if strings.Contains(page.Body.String(), "<button") {
		t.Error("the preview has a button")
	}
	begun := coreForm("front", fakeToday, rows[0], layer{}, layer{})
	if page := p.post("/tank/jar/preview", begun); strings.Contains(page.Body.String(), "?</p>") {
		t.Errorf("asks of a core that is not typed to its end: %s", page.Body)
	}
}

// settleForms are the forms that a tank's page has for answers, by what their buttons send.
func settleForms(p *testPage, id string) (at string, forms map[string]url.Values) {
	p.t.Helper()
	page := p.get(site.TankAddress(id)).Body.String()
	forms = map[string]url.Values{}
	for _, part := range strings.Split(page, `<form method="post" action="`)[1:] {
		action, rest, _ := strings.Cut(part, `"`)
		rest, _, _ = strings.Cut(rest, "</form>")
		if !strings.HasSuffix(action, "/mend") {
			continue
		}
		form := url.Values{}
		for _, name := range []string{"seen", "becomes", "do"} {
			if _, value, ok := strings.Cut(rest, `name="`+name+`" value="`); ok {
				value, _, _ = strings.Cut(value, `"`)
				form.Set(name, value)
			}
		}
		at, forms[form.Get("do")] = action, form
	}
	return at, forms
}

// What only the keeper can settle stands on the tank's page, and each answer mends the core
// that is stored, once, to be taken back.
func TestTank_settlesSlips(t *testing.T) {
	for name, test := range map[string]struct {
		stored []layers.Layer
		do     string
		said   string
		check  func(layers.Tank, layers.Core) bool
	}{
		"turned over": {layers.TurnedOver(bedOf(0, 42, 20, 80).Layers), "turned-over", "is amended: the layers are turned over.",
			func(_ layers.Tank, c layers.Core) bool { return c.Layers[0].ThicknessMM == 42 }},
		"mm as cm": {layers.Scaled(bedOf(0, 42, 20, 80).Layers, 10), "tenfold", "is amended: every layer is a tenth as thick.",
			func(_ layers.Tank, c layers.Core) bool { return c.Layers[2].ThicknessMM == 80 }},
		"one layer's unit": {bedOf(0, 420, 20, 80).Layers, "tenfold:0", "is amended: layer 1 is a tenth as thick.",
			func(_ layers.Tank, c layers.Core) bool {
				return c.Layers[0].ThicknessMM == 42 && c.Layers[2].ThicknessMM == 80
			}},
		"a siphoning": {bedOf(0, 12, 20, 80).Layers, "removal", "stays as it is: a siphoning was entered for 2026-10-31",
			func(t layers.Tank, c layers.Core) bool { return len(t.Events) == 1 && !c.Sure }},
		"right as it stands": {layers.Scaled(bedOf(0, 42, 20, 80).Layers, 0.1), "none", "counts as it is: you said that it is right.",
			func(_ layers.Tank, c layers.Core) bool { return c.Sure && c.Layers[0].ThicknessMM == 4.2 }},
	} {
		t.Run(name, func(t *testing.T) {
			p := newJarServer(t)
			core := bedOf(p.store.today, 0, 0, 0)
			core.Layers = test.stored
			p.store.tanks[0].Cores = append(p.store.tanks[0].Cores, core)
			before := p.store.tanks[0]
			p.want(p.get("/tank/jar"), http.StatusOK, "What only you can settle")
			at, forms := settleForms(p, "jar")
			form := forms[test.do]
			if at != "/tank/jar/core/front/2026-11-01/mend" || form == nil || forms["none"] == nil {
				t.Fatalf("at %q stand %v, want an answer %s", at, forms, test.do)
			}
			guessed := maps.Clone(form)
			guessed[formField] = []string{"guessed"}
			p.want(p.post(at, guessed), http.StatusForbidden)
			for range 2 { // it may be sent twice
				p.want(p.follow(p.post(at, form)), http.StatusOK, test.said)
			}
			if len(p.store.past) != 1 || !test.check(p.store.tanks[0], p.newest()) {
				t.Errorf("became %+v in %d changes", p.store.tanks[0], len(p.store.past))
			}
			if _, forms := settleForms(p, "jar"); forms["none"] != nil {
				t.Error("it is asked still")
			}
			if _, err := p.store.Undo(t.Context(), 1); err != nil || !reflect.DeepEqual(p.store.tanks[0], before) {
				t.Errorf("%v: undo gives back %+v, want %+v", err, p.store.tanks[0], before)
			}
		})
	}
}

// A core that another window has changed since is not mended, and what was settled elsewhere
// is not settled again.
func TestTank_settlesWhatWasShown(t *testing.T) {
	p := newJarServer(t)
	slip := bedOf(p.store.today, 12, 20, 80)
	p.store.tanks[0].Cores = append(p.store.tanks[0].Cores, slip)
	at, forms := settleForms(p, "jar")
	p.store.tanks[0].Cores[2].Note = "the other's"
	p.want(p.post(at, forms["none"]), http.StatusConflict, "changed elsewhere", "nothing was done")
	p.store.tanks[0].Cores[2].Note = ""
	p.store.tanks[0].Events = []layers.Event{{Date: p.store.today - 9, Kind: layers.EventSiphon}}
	p.want(p.post(at, forms["removal"]), http.StatusConflict, "no longer applies", "nothing was done")
	for _, form := range []url.Values{{"do": {"burn"}}, {"do": {"name:9:rust"}}, {"do": {"name:0:gold"}}, {"do": {"name:x"}}, {}} {
		form.Set("seen", site.CoreMark(slip))
		if w := p.post(at, form); w.Code != http.StatusConflict && w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%v: status %d", form, w.Code)
		}
	}
	p.want(p.post("/tank/jar/core/front/2020-01-01/mend", forms["none"]), http.StatusNotFound)
	if len(p.store.past) > 0 || len(p.store.tanks[0].Events) != 1 {
		t.Error("something was done all the same")
	}
}

// A layer whose name the advice hangs on is named by a button, as the keeper's own word, and
// keeps its photo and its edges.
func TestMend_namesLayer(t *testing.T) {
	p := newJarServer(t)
	core := photoCore(p.store.today)
	p.store.tanks[0].Cores = []layers.Core{core}
	mend := reports.Mend{Slip: reports.SlipName, Label: "It is rust", Layer: 1, Band: palette.Rust}
	views := forms.SettleViews(p.store.tanks[0], []reports.Question{
		{Station: core.Station, Date: core.Date, Text: "Is it?", Mends: []reports.Mend{mend}},
		{Station: "gone", Date: core.Date, Text: "Is it?"},
	})
	if len(views) != 1 || views[0].Seen != site.CoreMark(core) || views[0].Answers[0].Link {
		t.Fatalf("found the views %+v", views)
	}
	form := url.Values{"seen": {views[0].Seen}, "becomes": {views[0].Answers[0].Becomes}, "do": {"name:1:rust"}}
	for range 2 {
		p.want(p.follow(p.post(views[0].Here+"/mend", form)), http.StatusOK, "layer 2 is rust, as you say.")
	}
	core.Layers = slices.Clone(core.Layers)
	core.Layers[1].Band, core.Sure = palette.Rust, false
	if got := p.newest(); !reflect.DeepEqual(got, core) || len(p.store.past) != 1 {
		t.Errorf("became %+v, want %+v", got, core)
	}
}

// A photo whose reading does not fit is questioned before it is filed; that it is right is
// taken for that reading only, and holds when the same photo is filed again.
func TestPhotoSave_asks(t *testing.T) {
	p := newJarServer(t)
	at, q := p.sendPhoto(fakePhoto), fakeRequest()
	q.Tank = "jar"
	q.Cuts = []cutRequest{{420, ""}, {620, ""}, {1420, ""}}
	const told = "Was mm typed as cm?"
	p.want(p.postJSON(at+"/read", q), http.StatusOK, `"warnings":["The core of front on 2026-11-01 is`)
	w := p.postJSON(at+"/save", saveRequest{readRequest: q})
	p.want(w, http.StatusConflict, told, "Check the ruler's two points", `"answers":[{"answer":"none","label":"It is right as it stands"}]`)
	asked := answerOf[saveQuestion](p, w.Body.Bytes()).Asked
	other := q
	other.Cuts = []cutRequest{{420, ""}, {620, ""}, {1430, ""}}
	p.want(p.postJSON(at+"/save", saveRequest{readRequest: other, Asked: asked, Answer: "none"}), http.StatusConflict, told)
	p.want(p.postJSON(at+"/save", saveRequest{readRequest: q, Asked: asked, Answer: "tenfold"}), http.StatusConflict, told) // no button does that
	if len(p.store.past) > 0 {
		t.Error("it is filed all the same")
	}
	p.want(p.postJSON(at+"/save", saveRequest{readRequest: q, Asked: asked, Answer: "none"}), http.StatusOK)
	if core := p.newest(); !core.Sure || core.Photo == nil {
		t.Errorf("filed %+v, want a sure one", core)
	}
	p.want(p.postJSON(p.sendPhoto(fakePhoto)+"/save", saveRequest{readRequest: q, Replace: true}), http.StatusOK)
	if core := p.newest(); !core.Sure || len(p.store.tanks[0].Cores) != 3 {
		t.Errorf("filed again it is %+v", core)
	}
	other.Signs = []string{"gas-bubbles"}
	p.want(p.postJSON(p.sendPhoto(fakePhoto)+"/save", saveRequest{readRequest: other, Replace: true}), http.StatusConflict, told)
}

// A siphoning that is missing beside a photo's reading is entered with it.
func TestPhotoSave_entersWhatIsMissing(t *testing.T) {
	p := newJarServer(t)
	at, q := p.sendPhoto(fakePhoto), fakeRequest()
	q.Tank = "jar"
	q.Cuts = []cutRequest{{12, "mulm-light"}, {30, "black"}, {99, "native"}}
	w := p.postJSON(at+"/save", saveRequest{readRequest: q})
	p.want(w, http.StatusConflict, "Was it siphoned?", `{"answer":"removal","label":"Yes, enter a siphoning"}`, `{"answer":"none"`)
	save := saveRequest{readRequest: q, Asked: answerOf[saveQuestion](p, w.Body.Bytes()).Asked, Answer: "removal"}
	w = p.postJSON(at+"/save", save)
	p.want(w, http.StatusOK, `{"to":"/tank/jar"}`)
	next := httptest.NewRequest(http.MethodGet, "/tank/jar", nil)
	for _, cookie := range w.Result().Cookies() {
		next.AddCookie(cookie)
	}
	p.want(p.send(next), http.StatusOK, "Saved: front on 2026-11-01", "A siphoning was entered for 2026-10-31", "Undo removes the event; undo again removes the reading.")
	if tank := p.store.tanks[0]; len(tank.Events) != 1 || tank.Events[0].Kind != layers.EventSiphon || p.newest().Sure {
		t.Errorf("filed %+v and %+v", p.newest(), tank.Events)
	}
}
