package web

import (
	"fmt"
	"net/http"
	"net/url"
	"reflect"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/web/site"
)

// layer is a row of layers as it is typed.
type layer struct{ thickness, hex string }

// coreForm is a core as its form sends it.
func coreForm(station, date string, rows ...layer) url.Values {
	form := url.Values{"station": {station}, "date": {date}, "do": {"save"}}
	for _, row := range rows {
		addRow(form, row)
	}
	return form
}

// addRow adds a row of layers as the form sends it.
func addRow(form url.Values, row layer) {
	form.Add("thickness", row.thickness)
	form.Add("hex", row.hex)
	for _, name := range []string{"band", "layer_note", "was"} {
		form.Add(name, "")
	}
}

// typedAgain is the form of a stored core as a browser sends it, unchanged.
func (p *testPage) typedAgain(tank string, core layers.Core) url.Values {
	p.t.Helper()
	at := site.CoreAddress(tank, core.Station, core.Date)
	form := p.formOf(at, at)
	form.Set("do", "save")
	return form
}

func TestCoreForm_keepsReading(t *testing.T) {
	p := newTestServer(t)
	p.want(p.get("/tank/loft-jar/read"), http.StatusOK, `value="2026-11-01"`, "Start with the colours", "no layer yet", `<option value="front">`)
	form := coreForm(" left ", "2026-11-01", layer{"12", "8b5e3c"}, layer{"", ""}, layer{"0,5 in", "#B4552A"})
	form["band"] = []string{"", "", "rust"}
	form["layer_note"] = []string{"", "", "ragged"}
	form["sign"] = []string{"burrowers", "gas-bubbles", "no-sign"}
	form["lit"] = []string{"no"}
	form["note"] = []string{"two\r\nlines"}
	page := p.follow(p.file("/tank/loft-jar/read", form))
	p.want(page, http.StatusOK, "The reading of left, 2026-11-01 is saved.", "Undo: core left 2026-11-01 of tank &#34;loft-jar&#34; added")
	lit := false
	want := layers.Core{
		Station: "left", Date: p.store.today, Lit: &lit, Note: "two\nlines", Signs: []layers.Sign{layers.GasBubbles, layers.Burrowers},
		Layers: []layers.Layer{{ThicknessMM: 12, Color: palette.Color{R: 0x8b, G: 0x5e, B: 0x3c}},
			{ThicknessMM: 12.7, Color: palette.Color{R: 0xb4, G: 0x55, B: 0x2a}, Band: palette.Rust, Note: "ragged"}},
	}
	tank, _ := p.store.Tank(t.Context(), "loft-jar")
	if got := tank.Cores[len(tank.Cores)-1]; !reflect.DeepEqual(got, want) {
		t.Errorf("kept %+v, want %+v", got, want)
	}
}

// What can't stand is told where it was typed, in words; what was typed stays; nothing is
// kept.
func TestCoreForm_faults(t *testing.T) {
	good := layer{"12mm", "#8b5e3c"}
	for name, test := range map[string]struct {
		form url.Values
		want []string
	}{
		"no layer":         {coreForm("front", "2026-11-01", layer{}), []string{"found no layer, want one at least"}},
		"no thickness":     {coreForm("front", "2026-11-01", good, layer{"", "#8b5e3c"}), []string{"found nothing, want the layer&#39;s thickness"}},
		"a bad thickness":  {coreForm("front", "2026-11-01", layer{"12 ells", "#8b5e3c"}), []string{"found length &#34;12 ells&#34;", `value="12 ells"`}},
		"nothing thick":    {coreForm("front", "2026-11-01", layer{"0", "#8b5e3c"}), []string{"want a number above 0 and up to 2000 mm"}},
		"no colour":        {coreForm("front", "2026-11-01", layer{"12mm", ""}), []string{"found no colour"}},
		"a bad colour":     {coreForm("front", "2026-11-01", layer{"12mm", "brown"}), []string{"found colour &#34;brown&#34;", `value="brown"`}},
		"a day to come":    {coreForm("front", "2026-11-02", good), []string{`id="core-date-fault"`, "(today) or earlier"}},
		"no day":           {coreForm("front", "soon", good), []string{`id="core-date-fault"`, "YYYY-MM-DD", `value="soon"`}},
		"before the tank":  {coreForm("front", "2020-01-01", good), []string{"the tank&#39;s set_up) or later"}},
		"no station":       {coreForm("", "2026-11-01", good), []string{`id="core-station-fault"`}},
		"too deep":         {coreForm("front", "2026-11-01", layer{"2000", "#8b5e3c"}, layer{"2000", "#8b5e3c"}), []string{"2000 mm"}},
		"more than a form": {coreForm("front", "2026-11-01", slices.Repeat([]layer{good}, 101)...), []string{"found 101 layers, want at most 100"}},
	} {
		t.Run(name, func(t *testing.T) {
			p := newTestServer(t)
			page := p.file("/tank/loft-jar/read", test.form)
			p.want(page, http.StatusUnprocessableEntity, append(test.want, `role="alert"`)...)
			if len(p.store.past) > 0 {
				t.Errorf("kept all the same: %s", p.store.past[0].what)
			}
		})
	}
}

// seenOf is what the page sends along to remove a core.
func seenOf(p *testPage, id, station, date string) url.Values {
	p.t.Helper()
	tank, err := p.store.Tank(p.t.Context(), id)
	if err != nil {
		p.t.Fatal(err)
	}
	core, err := site.CoreOf(tank, station, date)
	if err != nil {
		p.t.Fatal(err)
	}
	return url.Values{"seen": {site.CoreMark(core)}}
}

// What is sent twice, as by a double click, is kept once and told as kept.
func TestCoreForm_sentTwice(t *testing.T) {
	p := newTestServer(t)
	form := coreForm("front", "2026-11-01", layer{"12.5mm", "#8b5e3c"})
	for range 2 {
		p.want(p.follow(p.file("/tank/loft-jar/read", form)), http.StatusOK, "The reading of front, 2026-11-01 is saved.")
	}
	core := p.store.tanks[1].Cores[len(p.store.tanks[1].Cores)-1]
	amend := p.typedAgain("loft-jar", core)
	amend.Set("note", "seen again")
	for range 2 {
		p.want(p.follow(p.post(site.CoreAddress("loft-jar", core.Station, core.Date), amend)), http.StatusOK, "The reading of front, 2026-11-01 is amended.")
	}
	if len(p.store.past) != 2 {
		t.Errorf("found %d changes, want 2", len(p.store.past))
	}
}

// A core of the same station and day, perhaps from another window, is not written over.
func TestCoreForm_taken(t *testing.T) {
	p := newTestServer(t)
	form := coreForm("front", "2026-11-01", layer{"12.5mm", "#8b5e3c"})
	p.follow(p.file("/tank/loft-jar/read", form))
	form["thickness"] = []string{"12.6mm"}
	p.want(p.file("/tank/loft-jar/read", form), http.StatusConflict,
		"There is a core of front, read 2026-11-01 already", `href="/tank/loft-jar/core/front/2026-11-01"`, `value="12.6mm"`)
}

// What the store can't do is told on the form, which keeps what was typed.
func TestCoreForm_storeFails(t *testing.T) {
	p := newTestServer(t)
	p.store.broken = fmt.Errorf("the disk is full")
	p.want(p.file("/tank/loft-jar/read", coreForm("front", "2026-11-01", layer{"12.5mm", "#8b5e3c"})), http.StatusInternalServerError, "the disk is full", `value="12.5mm"`)
}

// A station that differs from a known one in the case of its letters only is told, the known
// one is offered, and either can be kept.
func TestCoreForm_stationAlike(t *testing.T) {
	const told = "Is it the same place?"
	p := newTestServer(t)
	p.want(p.get("/tank/loft-jar/read"), http.StatusOK, `name="station" type="text" value="back" list="core-station-list" autocapitalize="none"`)
	form := coreForm("FRONT", "2026-11-01", layer{"12mm", "#8b5e3c"})
	for _, path := range []string{"/preview", "/read"} {
		form.Set("do", "look")
		p.want(p.post("/tank/loft-jar"+path, form), http.StatusOK, told, "already a station <bdi>front</bdi>. <bdi>FRONT</bdi> is a different one", `<button name="do" value="known">`)
	}
	form.Set("do", "known")
	page := p.post("/tank/loft-jar/read", form)
	p.want(page, http.StatusOK, `name="station" type="text" value="front"`, `value="12mm"`)
	if strings.Contains(page.Body.String(), told) {
		t.Error("the known station is asked about")
	}
	form.Set("do", "save")
	p.want(p.follow(p.file("/tank/loft-jar/read", form)), http.StatusOK, "The reading of FRONT, 2026-11-01 is saved. It is a different station from front")
	for _, known := range []string{"front", "FRONT", "left"} {
		if page := p.post("/tank/loft-jar/preview", coreForm(known, "2026-11-01", layer{"12mm", "#8b5e3c"})); strings.Contains(page.Body.String(), told) {
			t.Errorf("%s is asked about", known)
		}
	}
	at := site.CoreAddress("loft-jar", "FRONT", p.store.today)
	amend := p.typedAgain("loft-jar", p.store.tanks[1].Cores[len(p.store.tanks[1].Cores)-1])
	p.want(p.get(at), http.StatusOK, told)
	amend.Set("do", "known")
	p.want(p.post(at, amend), http.StatusOK, `name="station" type="text" value="front"`)
}

// Buttons that save nothing work without scripts.
func TestCoreForm_rearranges(t *testing.T) {
	p := newTestServer(t)
	for do, want := range map[string]string{
		"look": "1 2 3", "add": "1 2 3 ", "up:1": "2 1 3", "up:0": "", "down:1": "1 3 2", "down:2": "", "remove:1": "1 3", "remove:9": "",
	} {
		form := coreForm("front", "2026-11-01", layer{"1", ""}, layer{"2", ""}, layer{"3", ""})
		form.Set("do", do)
		page := p.post("/tank/loft-jar/read", form)
		if want == "" { // nothing to do: it is taken for saving, which these rows are not fit for
			p.want(page, http.StatusUnprocessableEntity)
			continue
		}
		p.want(page, http.StatusOK)
		rows, _, _ := strings.Cut(page.Body.String(), `<template id="blank">`)
		var got []string
		for _, part := range strings.Split(rows, `<input name="thickness" value="`)[1:] {
			value, _, _ := strings.Cut(part, `"`)
			got = append(got, value)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: rows %q, want %q", do, got, want)
		}
	}
	form := coreForm("front", "2026-11-01")
	form.Set("do", "take")
	p.want(p.post("/tank/loft-jar/read", form), http.StatusOK, `<input name="hex" value="#`)
	former := p.store.tanks[1].Cores[0] // of front
	for _, core := range p.store.tanks[1].Cores {
		if core.Station == "front" && core.Date > former.Date {
			former = core
		}
	}
	form = coreForm("front", "2026-11-01", layer{"13", ""}, layer{"", "#111111"})
	form.Set("do", "take")
	page := p.post("/tank/loft-jar/read", form)
	for i, l := range former.Layers {
		thickness := ""
		if i == 0 {
			thickness = "13"
		}
		p.want(page, http.StatusOK, fmt.Sprintf(`<input name="hex" value="%s"`, l.Color))
		_, rest, _ := strings.Cut(page.Body.String(), `<ol class="rows"`)
		if value, _, _ := strings.Cut(strings.Split(rest, `<input name="thickness" value="`)[i+1], `"`); value != thickness {
			t.Errorf("the thickness of layer %d is %q beside the colours of the reading before, want %q", i+1, value, thickness)
		}
	}
}

// The preview draws what is typed beside the core before it, names its layers, and waits
// for what can't be read yet.
func TestPreview_drawsWhatIsTyped(t *testing.T) {
	p := newTestServer(t)
	form := coreForm("front", "2026-11-01", layer{"31", "#86673f"}, layer{"x", ""}, layer{"4", "#a34a12"})
	page := p.post("/tank/loft-jar/preview", form)
	p.want(page, http.StatusOK, "<svg", "front, read 2026-10-25", "as typed", `<li data-row="0">`, `<li data-row="2">rust`, "Layer 2 is not drawn yet: found length &#34;x&#34;", "Colour oxic depth")
	if strings.Contains(page.Body.String(), `data-row="1"`) {
		t.Error("a row that can't be read has a meaning")
	}
	if len(p.store.past) > 0 {
		t.Error("a preview was kept")
	}
	p.want(p.post("/tank/loft-jar/preview", coreForm("nowhere", "", layer{})), http.StatusOK, "no layer yet")
}

func TestAmend_keepsChange(t *testing.T) {
	p := newTestServer(t)
	before := p.store.tanks[1].Cores[3]
	at := site.CoreAddress("loft-jar", before.Station, before.Date)
	p.want(p.get(at), http.StatusOK, site.CoreMark(before), before.Layers[0].Color.String(), `action="`+at+`/remove"`)
	form := p.typedAgain("loft-jar", before)
	form.Set("note", "seen again")
	p.want(p.follow(p.post(at, form)), http.StatusOK, "is amended")
	before.Note = "seen again"
	if after := p.store.tanks[1].Cores[3]; !reflect.DeepEqual(after, before) {
		t.Errorf("kept %+v, want %+v", after, before)
	}
	form = p.typedAgain("loft-jar", before)
	form.Set("station", "window")
	form.Set("date", "2026-10-31")
	p.want(p.follow(p.post(at, form)), http.StatusOK, "The reading of window, 2026-10-31 is amended.")
	p.want(p.get(at), http.StatusNotFound)
	other := p.store.tanks[1].Cores[0]
	form = p.typedAgain("loft-jar", p.store.tanks[1].Cores[3])
	form.Set("station", other.Station)
	form.Set("date", other.Date.String())
	p.want(p.post("/tank/loft-jar/core/window/2026-10-31", form), http.StatusConflict, "already", site.CoreAddress("loft-jar", other.Station, other.Date))
}

// Amending nothing changes nothing, to the last digit, whatever the units.
func TestAmend_keepsWhatStands(t *testing.T) {
	for _, u := range []layers.Units{layers.MM, layers.Inches} {
		p := newTestServerOn(t, Options{Units: u})
		p.store.tanks[0].Cores = append(p.store.tanks[0].Cores, photoCore(p.store.today-1))
		before := p.store.tanks[0].Cores
		for _, core := range before[len(before)-4:] {
			p.want(p.follow(p.post(site.CoreAddress("wheel-room", core.Station, core.Date), p.typedAgain("wheel-room", core))), http.StatusOK, "Nothing was changed")
		}
		if len(p.store.past) > 0 || !reflect.DeepEqual(p.store.tanks[0].Cores, before) {
			t.Errorf("in %s something changed", u)
		}
	}
}

// photoCore is an invented core that was read from a photo.
func photoCore(day layers.Date) layers.Core {
	core := layers.Core{Station: "pane", Date: day, Sure: true, Photo: &layers.Photo{
		SHA256: strings.Repeat("ab", 32), ColorDoubt: 3, Light: palette.Light{EV: 0.2, EVDoubt: 0.3, Veil: 0.01, VeilDoubt: 0.02}, ScaleError: 0.004,
		Surface: layers.Edge{ErrorMM: 0.2, HighestMM: -1, LowestMM: 1.5},
	}}
	depth := 0.0
	for i, mm := range []float64{12.3456, 4.0712, 33.3333} {
		depth += mm
		core.Layers = append(core.Layers, layers.Layer{
			ThicknessMM: mm, Color: palette.Color{R: uint8(0x80 + 20*i), G: 0x60, B: 0x40},
			Edge: &layers.Edge{ErrorMM: 0.3, HighestMM: depth - 1, LowestMM: depth + 1},
		})
	}
	return core
}

// A core from a photo keeps its photo and its edges when only what was seen besides
// changes; where a thickness is typed by hand the edges that moved go, and that is said, and
// the keeper is sure of it no longer.
func TestAmend_photoAndEdges(t *testing.T) {
	p := newTestServer(t)
	core := photoCore(p.store.today)
	p.store.tanks[0].Cores = append(p.store.tanks[0].Cores, core)
	last := len(p.store.tanks[0].Cores) - 1
	at := site.CoreAddress("wheel-room", core.Station, core.Date)
	p.want(p.get(at), http.StatusOK, "This core was read from a photo.")

	form := p.typedAgain("wheel-room", core)
	form["sign"] = []string{"gasping"}
	p.follow(p.post(at, form))
	core.Signs = []layers.Sign{layers.Gasping}
	if got := p.store.tanks[0].Cores[last]; !reflect.DeepEqual(got, core) {
		t.Errorf("after a sign: %+v, want %+v", got, core)
	}

	form = p.typedAgain("wheel-room", core)
	form["thickness"][1] = "5"
	p.want(p.follow(p.post(at, form)), http.StatusOK, "2 edges that were traced in the photo were dropped")
	got := p.store.tanks[0].Cores[last]
	if got.Sure || got.Photo == nil || got.Layers[0].Edge == nil || got.Layers[1].Edge != nil || got.Layers[2].Edge != nil || got.Layers[1].ThicknessMM != 5 || got.Layers[2].ThicknessMM != 33.3333 {
		t.Errorf("after a thickness: %+v", got)
	}
}

// A form that was opened before another window's change does not write over it unasked.
func TestAmend_conflict(t *testing.T) {
	p := newTestServer(t)
	core := p.store.tanks[1].Cores[3]
	at := site.CoreAddress("loft-jar", core.Station, core.Date)
	mine, other := p.typedAgain("loft-jar", core), p.typedAgain("loft-jar", core)
	other.Set("note", "the other's")
	p.follow(p.post(at, other))
	mine.Set("note", "mine")
	page := p.post(at, mine)
	p.want(page, http.StatusConflict, "changed elsewhere", "note: the other&#39;s", ">mine</textarea>", "as it is now", "Replace it with mine", site.CoreMark(p.store.tanks[1].Cores[3]))
	if got := p.store.tanks[1].Cores[3].Note; got != "the other's" {
		t.Errorf("note %q was written over", got)
	}
	mine.Set("seen", site.CoreMark(p.store.tanks[1].Cores[3]))
	p.follow(p.post(at, mine))
	if got := p.store.tanks[1].Cores[3].Note; got != "mine" {
		t.Errorf("note %q, want mine", got)
	}

	p.want(p.post(at+"/remove", other), http.StatusConflict, "changed elsewhere", "nothing was removed")
	remove := seenOf(p, "loft-jar", core.Station, core.Date.String())
	for _, path := range []string{"/tank/loft-jar", at} {
		p.want(p.get(path), http.StatusOK, `<input type="hidden" name="seen" value="`+remove.Get("seen")+`"><button`)
	}
	p.want(p.follow(p.post(at+"/remove", remove)), http.StatusOK, "is removed", "Undo: core")
	p.want(p.post(at, mine), http.StatusConflict, "was removed elsewhere", ">mine</textarea>", `action="/tank/loft-jar/read"`)
	p.want(p.post(at+"/remove", nil), http.StatusNotFound)
}

// All that changes anything wants the proof that one of our own pages asks for it.
func TestPages_wantProof(t *testing.T) {
	p := newTestServer(t)
	for _, path := range []string{
		"/tank/new", "/tank/loft-jar/edit", "/tank/loft-jar/read", "/tank/loft-jar/preview", "/tank/loft-jar/core/front/2026-10-25",
		"/tank/loft-jar/core/front/2026-10-25/remove", "/tank/loft-jar/core/front/2026-10-25/mend", "/tank/loft-jar/water", "/tank/loft-jar/water/remove", "/tank/loft-jar/event", "/tank/loft-jar/event/remove", "/undo",
	} {
		form := url.Values{formField: {"guessed"}}
		p.want(p.post(path, form), http.StatusForbidden)
	}
	if len(p.store.past) > 0 {
		t.Errorf("changed all the same: %s", p.store.past[0].what)
	}
}
