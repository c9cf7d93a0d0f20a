package web

import (
	"net/http"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/page"
	"panecore/reports/web/site"
)

func TestTank_adviceAndRecords(t *testing.T) {
	p := newTestServer(t)
	p.want(p.get("/tank/grain-store"), http.StatusOK,
		"Siphon the top", "The reading is", "of 100 draws say so.", "Next reading: <strong>2026-11", "Before you put a hand in", "Never start a siphon by mouth",
		`<a class="button main" href="/photo?tank=grain-store">`,
	)
	p.want(p.get("/tank/loft-jar"), http.StatusOK,
		"<title>front, read 2026-10-25</title>", "the bed over time</title>",
		`href="/tank/loft-jar/core/front/2026-10-25"`, `action="/tank/loft-jar/core/front/2026-10-25/remove"`,
		`action="/tank/loft-jar/water/remove"`, `action="/tank/loft-jar/event/remove"`, `href="/photo?tank=loft-jar"`, `href="/tank/loft-jar/report" target="_blank" rel="noopener"`,
	)
	for _, path := range []string{"/edit", "/read"} {
		p.want(p.get("/tank/loft-jar"+path), http.StatusOK, `<a href="/tank/loft-jar">Cancel</a>`)
	}
}

// Where the water comes first the page says so before all else, in the order in which it is
// done, and puts no hand in the bed forward.
func TestTank_waterFirst(t *testing.T) {
	p := newTestServer(t)
	page := p.get("/tank/loft-jar").Body.String()
	last := -1
	for _, text := range []string{
		`<h2 class="verdict urgent" id="advice">See to the water first</h2>`, "Oxygen was 1.7", "Leave the bed as it is until", "What to do now", "test the water again tomorrow, and read the bed on 2026-11-03.",
		`<a class="button main" href="#water-date">Enter a water test</a>`, "What the bed says, for later", "calls for siphoning", "Rehearse a stir or a siphoning",
	} {
		at := strings.Index(strings.ReplaceAll(page, site.Unbroken, " "), text)
		if at <= last {
			t.Errorf("%q stands at %d, want it behind %d", text, at, last)
		}
		last = at
	}
	if n := strings.Count(page, "button main"); n != 1 {
		t.Errorf("%d buttons are put forward, want the water test's alone", n)
	}
}

// A reading from an unreliable photo is marked in the list and among the tanks, unless its
// keeper is sure of it.
func TestTank_unreliablePhoto(t *testing.T) {
	p := newTestServer(t)
	core := photoCore(p.store.today)
	core.Sure, core.Photo.Unreliable = false, true
	p.store.tanks = []layers.Tank{{ID: "sluice", Cores: []layers.Core{core}}}
	p.want(p.get("/tank/sluice"), http.StatusOK, `from a photo <span class="over">that is not reliable</span>`)
	p.want(p.get("/"), http.StatusOK, "from a photo that is not reliable")
	p.store.tanks[0].Cores[0].Sure = true
	if page := p.get("/tank/sluice"); strings.Contains(page.Body.String(), "that is not reliable</span>") {
		t.Error("it is marked though its keeper is sure of it")
	}
}

// A tank without a core has a page that leads on, and its records are listed all the same.
func TestTank_neverRead(t *testing.T) {
	p := newTestServer(t)
	p.store.tanks = []layers.Tank{{ID: "sluice", Water: []layers.WaterTest{{Date: p.store.today, Time: "07:30"}}}}
	page := p.get("/tank/sluice")
	p.want(page, http.StatusOK, "No core has been read yet", `href="/tank/sluice/read"`, "2026-11-01 07:30")
	if strings.Contains(page.Body.String(), "<svg") {
		t.Error("a picture is drawn of nothing")
	}
}

// Where the water comes first of a tank whose bed nothing is known of, that is said without
// numbers of a bed.
func TestTank_waterFirstNeverRead(t *testing.T) {
	p := newTestServer(t)
	p.store.tanks = []layers.Tank{{ID: "sluice", Water: []layers.WaterTest{{Date: p.store.today, Time: "07:30", OxygenMGPerL: ptr(1.2)}}}}
	page := p.get("/tank/sluice")
	p.want(page, http.StatusOK, "See to the water first", "Oxygen was 1.2 mg/L", "No core has been read yet, so nothing can be said about the bed.", `href="/tank/sluice/read"`)
	if body := page.Body.String(); strings.Contains(body, "Colour oxic depth</dt>") || strings.Contains(body, "<svg") {
		t.Error("numbers or pictures of a bed that was not read")
	}
	p.want(p.get("/"), http.StatusOK, `<li class="card pressing">`, "Oxygen was 1.2 mg/L")
}

// pages are the addresses of all pages of a tank with a core.
func pages(tank layers.Tank) []string {
	at := site.TankAddress(tank.ID)
	list := []string{"/", at, at + "/edit", at + "/read", at + "/rehearse", at + "/report"}
	for _, core := range tank.Cores {
		list = append(list, site.CoreAddress(tank.ID, core.Station, core.Date))
	}
	return list
}

// What a keeper entered is text on every page, whatever it is.
func TestPages_showMarkupAsText(t *testing.T) {
	const evil = `"><script>alert(1)</script>`
	p := newTestServer(t)
	tank := p.store.tanks[0]
	tank.ID, tank.Name = "e"+evil, evil
	tank.Native[0].Name = evil
	core := tank.Cores[len(tank.Cores)-1]
	core.Station, core.Note, core.Layers[0].Note = evil, evil, evil
	tank.Cores = []layers.Core{core}
	tank.Events = []layers.Event{{Date: core.Date, Kind: layers.EventNote, Note: evil}}
	p.store.tanks = []layers.Tank{tank}
	for _, path := range pages(tank) {
		page := p.get(path)
		p.want(page, http.StatusOK, "&lt;script&gt;")
		if strings.Contains(page.Body.String(), "<script>alert") {
			t.Errorf("%s: markup got through", path)
		}
	}
	page := p.post(site.TankAddress(tank.ID)+"/preview", coreForm(evil, "2026-11-01", layer{"12mm", "#8b5e3c"}))
	p.want(page, http.StatusOK)
	if strings.Contains(page.Body.String(), "<script>alert") {
		t.Error("the preview: markup got through")
	}
}

// A vessel's measures stand on its tank's page, with the water that is above the bed: 600 by
// 305 by 280 mm are 51.24 litres, and 300 mm across and 200 mm deep are 14.14 litres.
func TestTank_vessel(t *testing.T) {
	for _, test := range []struct {
		vessel layers.Vessel
		units  layers.Units
		want   string
	}{
		{layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 305, WaterDepthMM: 280}, layers.MM, "600 × 305 mm, water 280 mm deep, 51 L"},
		{layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 305, WaterDepthMM: 280}, layers.Inches, "23.62 × 12.01 in, water 11.02 in deep, 51 L"},
		{layers.Vessel{Shape: layers.Cylinder, DiameterMM: 300, WaterDepthMM: 200}, layers.MM, "300 mm across, water 200 mm deep, 14 L"},
		{layers.Vessel{Shape: layers.Box, LengthMM: 150, WidthMM: 100, WaterDepthMM: 95}, layers.MM, "150 × 100 mm, water 95 mm deep, 1.4 L"},
	} {
		p := newUnreadServer(t, test.units)
		p.store.tanks[0].Vessel = &test.vessel
		p.want(p.get("/tank/wheel-room"), http.StatusOK, "Inside measurements: "+test.want)
		p.store.tanks[0].Vessel = nil
		if page := p.get("/tank/wheel-room"); strings.Contains(page.Body.String(), "Inside measurements") {
			t.Error("it shows a vessel that is not known")
		}
	}
}

// From a tank's pages the way to a photo leads to one of that tank.
func TestPages_photoOfTheTank(t *testing.T) {
	p := newUnreadServer(t, layers.MM)
	p.store.tanks[0].ID = "mill race/2"
	const usual, own = `<a href="/photo">Read a photo</a>`, `<a href="/photo?tank=mill%20race%2f2">Read a photo</a>`
	for _, path := range []string{"", "/edit", "/read", "/rehearse"} {
		p.want(p.get(site.TankAddress("mill race/2")+path), http.StatusOK, own)
	}
	for _, path := range []string{"/", "/tank/new", "/keep"} {
		p.want(p.get(path), http.StatusOK, usual)
	}
	p.want(p.get("/tank/nowhere"), http.StatusNotFound, usual)
}

// Every address of a tank tells one that does not exist.
func TestPages_unknownTank(t *testing.T) {
	p := newTestServer(t)
	for _, path := range pages(layers.Tank{ID: "wheel-rom", Cores: []layers.Core{{Station: "front", Date: p.store.today}}})[1:] {
		p.want(p.get(path), http.StatusNotFound, "wheel-rom")
	}
	for path, form := range map[string]map[string][]string{
		"/read":                         coreForm("front", "2026-11-01", layer{"12mm", "#8b5e3c"}),
		"/edit":                         {"name": {"x"}},
		"/preview":                      {},
		"/core/front/2026-11-01":        coreForm("front", "2026-11-01", layer{"12mm", "#8b5e3c"}),
		"/core/front/2026-11-01/remove": {},
		"/core/front/2026-11-01/mend":   {"do": {"none"}},
		"/water":                        {"date": {"2026-11-01"}, "ph": {"7"}},
		"/water/remove":                 {"seen": {"x"}},
		"/event":                        {"date": {"2026-11-01"}, "kind": {"stir"}},
		"/event/remove":                 {"seen": {"x"}},
	} {
		p.want(p.post("/tank/wheel-rom"+path, form), http.StatusNotFound, "wheel-rom")
	}
}

// The printable page may load nothing, and runs no script.
func TestReport_ownPolicy(t *testing.T) {
	p := newTestServer(t)
	page := p.get("/tank/wheel-room/report")
	p.want(page, http.StatusOK, "Report of wheel-room")
	if got := page.Header().Get("Content-Security-Policy"); !strings.Contains(got, "default-src 'none'") || strings.Contains(got, "script-src") {
		t.Errorf("policy %q", got)
	}
}

// What was noted after the newest reading is listed and counts.
func TestTank_laterRecords(t *testing.T) {
	p := newTestServer(t)
	at := p.store.today - 30
	p.store.tanks = []layers.Tank{{
		ID:     "sluice",
		Cores:  []layers.Core{{Station: "front", Date: at, Layers: []layers.Layer{{ThicknessMM: 20, Color: palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}}}}},
		Water:  []layers.WaterTest{{Date: at + 29, OxygenMGPerL: ptr(2.5)}},
		Events: []layers.Event{{Date: at + 1, Kind: layers.EventStir}},
	}}
	p.want(p.get("/tank/sluice"), http.StatusOK, "Judged as of <time>2026-11-01</time>", "See to the water first", "Oxygen was 2.5 mg/L", (at + 1).String())
}

// The sheet to print, with the rulers for photos, is linked where a photo is begun and on a
// tank's page, is divided in the page's units, and loads nothing.
func TestServer_sheet(t *testing.T) {
	for _, units := range []layers.Units{layers.MM, layers.Inches} {
		p := newTestServerOn(t, Options{Units: units})
		for _, at := range []string{"/photo", "/tank/wheel-room"} {
			p.want(p.get(at), http.StatusOK, `href="/sheet" target="_blank" rel="noopener">`)
		}
		var want strings.Builder
		if err := page.WriteSheet(&want, units); err != nil {
			t.Fatal(err)
		}
		got := p.get("/sheet")
		if got.Body.String() != want.String() {
			t.Errorf("in %s another page than the command's: %.200s", units, got.Body)
		}
		if policy := got.Header().Get("Content-Security-Policy"); policy != printablePolicy {
			t.Errorf("its policy is %q", policy)
		}
		p.want(p.get("/tank/wheel-room"), http.StatusOK, `href="/tank/wheel-room/tag" target="_blank" rel="noopener">`)
		p.want(p.get("/tank/wheel-room/tag?station=left&size=30mm"), http.StatusOK, "wheel-room", "left", "30")
		p.want(p.get("/tank/wheel-room/tag?size=3mm"), http.StatusUnprocessableEntity, "want 20 to 120 mm")
	}
}
