package serve_test

import (
	"net/url"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/programtest"
)

// Markup in what a keeper wrote, or another who gave a document, is shown as the letters it
// is of on every view; nothing of it runs, and nothing is asked for that the page forbids.
func TestServe_markupIsText(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	const markup = `</title></svg><img src=x onerror=alert(1)><p onload=alert(1)>&lt;'"` + "`{{.}}"
	s := standing(t, []string{"tank", "add", "hall", "--name", markup, "--native", "#d5c8a5,sand,60mm," + markup})
	proof := s.proof()
	s.send("/tank/hall/read", proof, url.Values{
		"station": {markup}, "date": {"2026-11-01"}, "note": {markup},
		"thickness": {"12mm", "40mm"}, "hex": {"#8b5e3c", "#d5c8a5"}, "band": {"", ""}, "layer_note": {markup, ""}, "was": {"", ""},
	})
	s.send("/tank/hall/water", proof, url.Values{"date": {"2026-11-01"}, "time": {"07:30"}, "ph": {"7.2"}, "note": {markup}})
	s.send("/tank/hall/event", proof, url.Values{"date": {"2026-11-01"}, "kind": {"replant"}, "note": {markup}})
	core := "/tank/hall/core/" + url.PathEscape(markup) + "/2026-11-01"
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	for name, view := range map[string]struct{ path, expected string }{
		"overview":        {path: "/"},
		"tank":            {path: "/tank/hall"},
		"edit":            {path: "/tank/hall/edit"},
		"read":            {path: "/tank/hall/read?station=" + url.QueryEscape(markup)},
		"amend":           {path: core},
		"rehearse":        {path: "/tank/hall/rehearse"},
		"report":          {path: "/tank/hall/report"},
		"photo":           {path: "/photo?tank=hall"},
		"missing tank":    {"/tank/" + url.PathEscape(markup), "status of 404"},
		"missing core":    {core + "x", "status of 404"},
		"photo's station": {path: "/photo?tank=hall&station=" + url.QueryEscape(markup)},
	} {
		tab.goTo(t, view.path)
		for _, fault := range browsertest.Quiet(t, tab.Tab, view.expected) {
			t.Errorf("%s: %s", name, fault)
		}
		if smuggled := browsertest.Found[string](t, tab, `[...document.querySelectorAll("[onerror], [onload], img:not([src^='/']):not([src^='data:']):not([src^='blob:'])")].map(e => e.outerHTML).join("\n")`); smuggled != "" {
			t.Errorf("%s: markup was taken for the page's own: %s", name, smuggled)
		}
		if shown := browsertest.Found[string](t, tab, `document.documentElement.textContent + [...document.querySelectorAll("input, option, textarea")].map(e => e.value).join("\n")`); !strings.Contains(shown, markup) && !strings.Contains(shown, strconv.Quote(markup)) {
			t.Errorf("%s: the text is not shown as it was written", name)
		}
	}

	tab.goTo(t, "/photo?tank=hall&station="+url.QueryEscape(markup))
	tab.choosePhoto(t, programtest.PhotoTruths(t)[0].Path())
	tab.Do(t, click("#step-save .step-name"))
	if chosen := browsertest.Found[string](t, tab, `document.getElementById("save-tank").selectedOptions[0].text + document.getElementById("save-station").value + document.getElementById("step-save").textContent`); strings.Count(chosen, markup) < 3 {
		t.Errorf("the photo's page shows %q", chosen)
	}
	tab.goTo(t, "/tank/hall")
	tab.Do(t, chromedp.Focus(chromedp.CSS(`#timeline [tabindex="0"]`)))
	if told := tab.text(t, "#details"); !strings.Contains(told, markup) {
		t.Errorf("the timeline tells %q", told)
	}
	wantQuiet(t, tab)
}
