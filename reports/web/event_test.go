package web

import (
	"maps"
	"net/http"
	"net/url"
	"reflect"
	"testing"

	"panecore/layers"
	"panecore/reports/web/site"
)

// eventMark is what the page tells an event by.
func eventMark(event layers.Event) string {
	return site.Fingerprint(layers.Tank{Events: []layers.Event{event}})
}

func TestEvent_addsAndRemoves(t *testing.T) {
	p := newUnreadServer(t, layers.MM)
	form := url.Values{"date": {"2026-10-30"}, "kind": {"siphon"}, "share": {"25 %"}, "depth": {"20"}, "note": {"left half"}}
	p.want(p.follow(p.post("/tank/loft-jar/event", form)), http.StatusOK, "The siphon of 2026-10-30 is saved.", "siphon, 25 %, to 20 mm", "left half")
	tank, _ := p.store.Tank(t.Context(), "loft-jar")
	want := layers.Event{Date: p.store.today - 2, Kind: layers.EventSiphon, Share: ptr(0.25), DepthMM: ptr(20.0), Note: "left half"}
	got := tank.Events[len(tank.Events)-1]
	if !reflect.DeepEqual(got, want) {
		t.Errorf("kept %+v, want %+v", got, want)
	}
	p.want(p.post("/tank/loft-jar/event", form), http.StatusConflict, "already", ">left half</textarea>")
	form.Set("note", "right half") // another of the day: each is told from the other
	p.follow(p.post("/tank/loft-jar/event", form))
	remove := url.Values{"seen": {eventMark(got)}}
	p.want(p.follow(p.post("/tank/loft-jar/event/remove", remove)), http.StatusOK, "is removed", "right half")
	p.want(p.post("/tank/loft-jar/event/remove", remove), http.StatusNotFound, "removed already")
}

func TestEvent_faults(t *testing.T) {
	for name, test := range map[string]struct {
		change url.Values
		want   string
	}{
		"no kind":        {url.Values{"kind": {""}}, `id="event-kind-fault"`},
		"unknown kind":   {url.Values{"kind": {"feast"}}, "want stir, siphon, water-change"},
		"a share of it":  {url.Values{"share": {"half"}}, "found &#34;half&#34;, want a percentage"},
		"more than all":  {url.Values{"share": {"250"}}, "found &#34;250&#34;, want a percentage from 0 to 100 %"},
		"less than none": {url.Values{"share": {"-5"}}, "want a percentage from 0 to 100 %"},
		"a share of 1":   {url.Values{"share": {"0.25"}}, "want 1 % or more: for a quarter type 25"},
		"no depth":       {url.Values{"depth": {"deep"}}, `id="event-depth-fault"`},
		"too deep":       {url.Values{"depth": {"9 m"}}, `id="event-depth-fault"`},
		"a day to come":  {url.Values{"date": {"2027-01-01"}}, `id="event-date-fault"`},
		"a bad note":     {url.Values{"note": {"a\x01b"}}, `id="event-note-fault"`},
	} {
		t.Run(name, func(t *testing.T) {
			p := newUnreadServer(t, layers.MM)
			form := url.Values{"date": {"2026-10-30"}, "kind": {"siphon"}}
			maps.Copy(form, test.change)
			p.want(p.post("/tank/loft-jar/event", form), http.StatusUnprocessableEntity, test.want)
			if len(p.store.past) > 0 {
				t.Error("kept all the same")
			}
		})
	}
}

// What was done is told at the page's top, beside its undo: no answer leads past it, and none
// leaves it to the form's own address, which leads to where faults are told.
func TestPages_leadToWhatWasDone(t *testing.T) {
	p := newUnreadServer(t, layers.MM)
	tank := p.store.tanks[1]
	p.want(p.get("/tank/loft-jar"), http.StatusOK, `action="/tank/loft-jar/water#water"`, `action="/tank/loft-jar/event#events"`)
	for _, step := range []struct {
		path, to string
		form     url.Values
	}{
		{"/water", "/tank/loft-jar#top", url.Values{"date": {fakeToday}, "ph": {"7"}}},
		{"/event", "/tank/loft-jar#top", url.Values{"date": {fakeToday}, "kind": {"stir"}}},
		{"/water/remove", "/tank/loft-jar", url.Values{"seen": {waterMark(tank.Water[0])}}},
		{"/event/remove", "/tank/loft-jar", url.Values{"seen": {eventMark(tank.Events[0])}}},
		{"/read", "/tank/loft-jar", coreForm("front", fakeToday, layer{"12mm", "#8b5e3c"})},
	} {
		if to := p.post("/tank/loft-jar"+step.path, step.form).Header().Get("Location"); to != step.to {
			t.Errorf("%s leads to %q, want %q", step.path, to, step.to)
		}
	}
	at := site.CoreAddress("loft-jar", "front", p.store.today)
	amended := p.typedAgain("loft-jar", p.store.tanks[1].Cores[0])
	amended.Set("note", "seen again")
	for _, change := range []func() (path string, form url.Values){
		func() (string, url.Values) { return at, amended },
		func() (string, url.Values) { return at + "/remove", seenOf(p, "loft-jar", "front", fakeToday) },
	} {
		path, form := change()
		if to := p.post(path, form).Header().Get("Location"); to != "/tank/loft-jar" {
			t.Errorf("%s leads to %q", path, to)
		}
	}
}
