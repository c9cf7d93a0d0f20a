package web

import (
	"maps"
	"net/http"
	"net/url"
	"reflect"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/web/site"
)

// boxForm tells a tank with all that its form holds.
func boxForm() url.Values {
	return url.Values{
		"name": {"Mill race"}, "set_up": {"2026-03-01"}, "shape": {"box"}, "length": {"60cm"}, "width": {"300"}, "water_depth": {"11in"},
		"flow": {"still"}, "burrowers": {"no"}, "rooted": {"yes"},
		"native_hex": {"#d9cba6", "", "#37302b"}, "native_kind": {"sand", "", "soil"}, "native_thickness": {"60", "", ""}, "native_name": {"pale sand", "", ""},
		"limit_mulm_mm": {"60"}, "limit_siphon_share": {"30 %"},
	}
}

// tankTyped is the form of a stored tank as a browser sends it, unchanged.
func (p *testPage) tankTyped(id string) url.Values {
	p.t.Helper()
	at := site.TankAddress(id) + "/edit"
	return p.formOf(at, at)
}

// setupMark is what the form of a tank tells it by.
func setupMark(t layers.Tank) string {
	t.Cores, t.Water, t.Events = nil, nil, nil
	return site.Fingerprint(t)
}

func TestTankForm_adds(t *testing.T) {
	p := newTestServer(t)
	page := p.follow(p.post("/tank/new", boxForm()))
	p.want(page, http.StatusOK, "Mill race is saved.", "No core has been read yet", "Undo: tank &#34;mill-race&#34; added")
	no, yes := false, true
	setUp, _ := layers.ParseDate("2026-03-01")
	want := layers.Tank{
		ID: "mill-race", Name: "Mill race", SetUp: setUp, Flow: layers.Still, Burrowers: &no, RootedPlants: &yes,
		Vessel: &layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 300, WaterDepthMM: 279.4},
		Native: []layers.Native{{Name: "pale sand", Kind: layers.Sand, Color: palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}, ThicknessMM: 60},
			{Kind: layers.Soil, Color: palette.Color{R: 0x37, G: 0x30, B: 0x2b}}},
		Limits: layers.Limits{layers.LimitMulm: 60, layers.LimitSiphonShare: 0.3},
	}
	if got, _ := p.store.Tank(t.Context(), "mill-race"); !reflect.DeepEqual(got, want) {
		t.Errorf("kept %+v, want %+v", got, want)
	}
}

// What can't stand is told beside its field, in words; what was typed stays; nothing is saved.
func TestTankForm_faults(t *testing.T) {
	for name, test := range map[string]struct {
		change url.Values
		want   []string
	}{
		"no name":           {url.Values{"name": {""}}, []string{`id="tank-name-fault"`, "found nothing, want a name"}},
		"no unit known":     {url.Values{"length": {"60 ells"}}, []string{`id="tank-length-fault"`, "found length &#34;60 ells&#34;", `value="60 ells"`}},
		"too small":         {url.Values{"width": {"3mm"}}, []string{`id="tank-width-fault"`, "want a number from 20 to 10000 mm"}},
		"no measure":        {url.Values{"water_depth": {""}}, []string{`id="tank-water_depth-fault"`, "want a length"}},
		"a day to come":     {url.Values{"set_up": {"2027-01-01"}}, []string{`id="tank-set_up-fault"`, "2026-11-01 (today) or earlier"}},
		"no flow":           {url.Values{"flow": {"gushing"}}, []string{`id="tank-flow-fault"`, "want still, livestock, bubbled or pumped"}},
		"a bad colour":      {url.Values{"native_hex": {"sandy", "", ""}}, []string{"found colour &#34;sandy&#34;", `value="sandy"`}},
		"no kind":           {url.Values{"native_kind": {"", "", "soil"}}, []string{"want one of the list"}},
		"a limit's range":   {url.Values{"limit_mulm_mm": {"0.5"}}, []string{`id="tank-limit_mulm_mm-fault"`, "want 1 to 500 mm"}},
		"too large a share": {url.Values{"limit_siphon_share": {"250 %"}}, []string{`id="tank-limit_siphon_share-fault"`, "want a percentage from 0 to 100 %"}},
		"a share of 1":      {url.Values{"limit_siphon_share": {"0.25"}}, []string{`id="tank-limit_siphon_share-fault"`, "for a quarter type 25"}},
		"no share":          {url.Values{"limit_siphon_share": {"0"}}, []string{`id="tank-limit_siphon_share-fault"`, "found 0, want 1 to 100 % of the floor"}},
		"a taken id":        {url.Values{"id": {"wheel-room"}}, []string{`id="tank-id-fault"`, "found a tank with the short name wheel-room already"}},
		"an id of ours":     {url.Values{"name": {"New"}}, []string{`id="tank-id-fault"`, "be an address"}},
		"an id in blanks":   {url.Values{"id": {"a\x01b"}}, []string{`id="tank-id-fault"`}},
	} {
		t.Run(name, func(t *testing.T) {
			p := newTestServer(t)
			form := boxForm()
			maps.Copy(form, test.change)
			page := p.post("/tank/new", form)
			status := http.StatusUnprocessableEntity
			if name == "a taken id" {
				status = http.StatusConflict
			}
			p.want(page, status, append(test.want, "Nothing was saved yet", `value="pale sand"`)...)
			if len(p.store.past) > 0 {
				t.Errorf("kept all the same: %s", p.store.past[0].what)
			}
		})
	}
}

// A measure that few tanks have is asked about before the tank is saved: it is corrected, or
// saved as it is by who says that it is right, of the very tank that was asked about.
func TestTankForm_asksAboutMeasures(t *testing.T) {
	p := newTestServer(t)
	form := boxForm()
	form.Set("water_depth", "28")
	page := p.post("/tank/new", form)
	p.want(page, http.StatusOK, "The water depth of 28 mm is less than tanks usually have. Was cm typed as mm?", "Yes, make the water depth 280 mm",
		`name="do" value="none">It is right as it stands</button>`, "change the tank below", `value="pale sand"`, "data-came", " autofocus")
	mark, _ := markOf(page)
	form.Set("asked", mark)
	other := maps.Clone(form)
	other.Set("width", "29")
	other.Set("do", "none")
	p.want(p.post("/tank/new", other), http.StatusOK, "The width of 29 mm and the water depth of 28 mm are less")
	mended := maps.Clone(form)
	mended.Set("do", "unit")
	p.want(p.post("/tank/new", mended), http.StatusOK, "Nothing is saved yet: check them", `name="water_depth" type="text" value="280"`)
	if len(p.store.past) > 0 {
		t.Errorf("kept before the question is settled: %s", p.store.past[0].what)
	}
	form.Set("do", "none")
	for range 2 { // it may be sent twice
		p.want(p.follow(p.post("/tank/new", form)), http.StatusOK, "Mill race is saved.")
	}
	if got, _ := p.store.Tank(t.Context(), "mill-race"); got.Vessel.WaterDepthMM != 28 || len(p.store.past) != 1 {
		t.Errorf("kept %+v in %d changes", got.Vessel, len(p.store.past))
	}
	edit := p.tankTyped("mill-race")
	edit.Set("flow", "pumped")
	p.want(p.follow(p.post("/tank/mill-race/edit", edit)), http.StatusOK, "The tank is amended.")
	edit = p.tankTyped("mill-race")
	edit.Set("length", "6000")
	p.want(p.post("/tank/mill-race/edit", edit), http.StatusOK, "The length of 6000 mm is more than tanks usually have. Was mm typed as cm?")
}

// A form that comes back has one empty row of substrates at its foot, however often it does.
func TestTankForm_emptyRows(t *testing.T) {
	p := newTestServer(t)
	for _, test := range []struct {
		hex  []string
		rows int
	}{{[]string{"", ""}, 2}, {[]string{"", "", "", "", ""}, 2}, {[]string{"#d9cba6", "", ""}, 2}, {[]string{"", "#d9cba6", "", ""}, 3}} {
		form := url.Values{"name": {""}, "native_hex": test.hex}
		page := p.post("/tank/new", form)
		p.want(page, http.StatusUnprocessableEntity)
		if rows := strings.Count(page.Body.String(), `name="native_hex"`); rows != test.rows {
			t.Errorf("%q comes back as %d rows, want %d", test.hex, rows, test.rows)
		}
	}
}

// An edit that changes nothing changes nothing, to the last digit, whatever the units.
func TestTankForm_keepsWhatStands(t *testing.T) {
	for _, units := range []layers.Units{layers.MM, layers.Inches} {
		p := newTestServerOn(t, Options{Units: units})
		p.store.tanks[0].Limits = layers.Limits{layers.LimitSiphonShare: 0.1234567891234}
		for _, before := range p.store.tanks {
			p.follow(p.post(site.TankAddress(before.ID)+"/edit", p.tankTyped(before.ID)))
			if after, _ := p.store.Tank(t.Context(), before.ID); !reflect.DeepEqual(after, before) {
				t.Errorf("%s in %s: %+v became %+v", before.ID, units, before.Vessel, after.Vessel)
			}
		}
	}
}

func TestTankForm_amends(t *testing.T) {
	p := newTestServer(t)
	p.want(p.get("/tank/wheel-room/edit"), http.StatusOK, `value="Wheel room"`, `value="900"`, `value="#d3c3a5"`)
	before := p.store.tanks[0]
	form := p.tankTyped("wheel-room")
	form.Set("flow", "pumped")
	form.Set("shape", "")
	p.want(p.follow(p.post("/tank/wheel-room/edit", form)), http.StatusOK, "The tank is amended.")
	before.Flow, before.Vessel = layers.Pumped, nil
	if after := p.store.tanks[0]; !reflect.DeepEqual(after, before) {
		t.Errorf("kept %+v, want %+v", after, before)
	}
	form.Set("set_up", "2025-01-01")
	form.Set("seen", setupMark(before))
	p.want(p.post("/tank/wheel-room/edit", form), http.StatusUnprocessableEntity, "(its oldest core) or earlier", `value="2025-01-01"`)
}

// A form that was opened before another window's change does not write over it unasked.
func TestTankForm_conflict(t *testing.T) {
	p := newTestServer(t)
	form := p.tankTyped("wheel-room")
	other := maps.Clone(form)
	other["name"] = []string{"The other's"}
	p.follow(p.post("/tank/wheel-room/edit", other))
	form.Set("name", "Mine")
	p.want(p.post("/tank/wheel-room/edit", form), http.StatusConflict, "changed elsewhere", `value="Mine"`, setupMark(p.store.tanks[0]))
	if got := p.store.tanks[0].Name; got != "The other's" {
		t.Errorf("name %q was written over", got)
	}
	form.Set("seen", setupMark(p.store.tanks[0]))
	p.want(p.follow(p.post("/tank/wheel-room/edit", form)), http.StatusOK, "Mine")
}

// What is sent twice, as by a double click, is told as kept; a tank of the same short name
// that is another is not.
func TestTankForm_sentTwice(t *testing.T) {
	p := newTestServer(t)
	form := boxForm()
	for range 2 {
		p.want(p.follow(p.post("/tank/new", form)), http.StatusOK, "Mill race is saved.")
	}
	if len(p.store.past) != 1 {
		t.Errorf("found %d changes, want 1", len(p.store.past))
	}
	form.Set("flow", "pumped")
	p.want(p.post("/tank/new", form), http.StatusConflict, "already")
	amend := p.tankTyped("wheel-room")
	amend.Set("name", "Mine")
	for range 2 {
		p.want(p.follow(p.post("/tank/wheel-room/edit", amend)), http.StatusOK, "The tank is amended.")
	}
}
