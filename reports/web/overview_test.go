package web

import (
	"net/http"
	"strings"
	"testing"

	"panecore/layers"
)

// Every tank is a card that leads to it, the most pressing first, with what is due in words.
func TestOverview_mostPressingFirst(t *testing.T) {
	p := newTestServer(t)
	page := p.get("/")
	p.want(page, http.StatusOK, `<li class="card pressing">`, "See to the water first", "Oxygen was 1.7 mg/L", "Siphon the top", "The reading is", "next reading 2026-11-03, due", "2 of 5 are due for a reading.", `href="/photo?tank=loft-jar"`)
	last := -1
	for _, id := range []string{"loft-jar", "grain-store", "sill-tray", "counting-room", "wheel-room"} {
		at := strings.Index(page.Body.String(), `<a href="/tank/`+id+`">`)
		if at <= last {
			t.Errorf("%s stands at %d, want it behind %d", id, at, last)
		}
		last = at
	}
}

func TestOverview_firstTank(t *testing.T) {
	p := newTestServer(t)
	p.store.tanks = nil
	p.want(p.get("/"), http.StatusOK, "Add your first tank", `href="/tank/new"`)
	p.store.tanks = []layers.Tank{{ID: "mill race/2", Name: "Mill <race>"}}
	page := p.get("/")
	p.want(page, http.StatusOK, `<a href="/tank/mill%20race%2F2">`, "Mill &lt;race&gt;", "No core has been read.", "first reading due")
	if body := page.Body.String(); strings.Contains(body, "<svg") || strings.Contains(body, "Each column") {
		t.Error("a picture is drawn of nothing, or spoken of")
	}
}
