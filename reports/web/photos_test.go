package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/web/site"
)

// Two photos of a station stand beside each other: the newest two, or those that the address names, the earlier one first.
// A station with one photo has none.
func TestPairs(t *testing.T) {
	var strips []reports.Strip
	for _, day := range []layers.Date{20460, 20400, 20430} {
		strips = append(strips, reports.Strip{Station: "front", Date: day, WidthMM: 20, AboveMM: 5, DepthMM: 60})
	}
	strips = append(strips, reports.Strip{Station: "left", Date: 20460, WidthMM: 20, AboveMM: 5, DepthMM: 60})
	day := func(d layers.Date) string { return d.String() }
	for name, test := range map[string]struct {
		query         url.Values
		before, after layers.Date
	}{
		"none chosen":     {nil, 20430, 20460},
		"chosen":          {url.Values{"station": {"front"}, "before": {day(20400)}, "after": {day(20430)}}, 20400, 20430},
		"the other way":   {url.Values{"station": {"front"}, "before": {day(20460)}, "after": {day(20400)}}, 20400, 20460},
		"of another":      {url.Values{"station": {"left"}, "before": {day(20400)}, "after": {day(20430)}}, 20430, 20460},
		"one day twice":   {url.Values{"station": {"front"}, "before": {day(20400)}, "after": {day(20400)}}, 20430, 20460},
		"no day of these": {url.Values{"station": {"front"}, "before": {"2001-01-01"}, "after": {"never"}}, 20430, 20460},
	} {
		list := pairs("jar", strips, test.query)
		if len(list) != 1 || list[0].Before.Date != test.before || list[0].After.Date != test.after || len(list[0].Days) != 3 {
			t.Errorf("%s: %+v, want %s and %s of front", name, list, test.before, test.after)
		}
		if p := list[0].Before; p.Width != 160 || p.Height != 520 {
			t.Errorf("%s: %d x %d, want 8 pixels a millimetre", name, p.Width, p.Height)
		}
	}
}

// The picture of a change holds its photos, which its own policy allows, and follows a dark screen. Without a photo, or
// a reading, there is none.
func TestChange_picture(t *testing.T) {
	p := newPhotoServer(t)
	for _, day := range []string{"2026-09-01", fakeToday} {
		q := fakeRequest()
		q.Date = day
		p.want(p.save(p.sendPhoto(fakePhoto+day), saveRequest{readRequest: q}), http.StatusOK)
	}
	at := "/tank/sill-tray/change.svg?station=front&before=2026-09-01&after=" + fakeToday
	w := p.get(at)
	p.want(w, http.StatusOK, "25 % of what both photos show", `href="data:image/jpeg`, "prefers-color-scheme: dark")
	if got := w.Header().Get("Content-Security-Policy"); got != changePolicy || w.Header().Get("Content-Type") != "image/svg+xml" {
		t.Errorf("policy %q, type %q", got, w.Header().Get("Content-Type"))
	}
	p.want(p.get(strings.Replace(at, "2026-09-01", "2001-01-01", 1)), http.StatusNotFound)
	p.want(p.get("/tank/sill-tray"), http.StatusOK, `href="`+site.CoreAddress("sill-tray", "front", p.store.today)+`/strip.jpg"`, "the strip of years",
		`<label class="slide" hidden>`)
}
