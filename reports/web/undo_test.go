package web

import (
	"net/http"
	"net/url"
	"testing"

	"panecore/layers"
)

// Undo takes back the last change, tells it, and goes back to where it was asked for.
func TestUndo_takesBack(t *testing.T) {
	p := newTestServer(t)
	p.follow(p.post("/tank/loft-jar/core/front/2026-10-25/remove", seenOf(p, "loft-jar", "front", "2026-10-25")))
	p.want(p.get("/tank/loft-jar"), http.StatusOK, `<input type="hidden" name="to" value="/tank/loft-jar">`, `<input type="hidden" name="change" value="1">`)
	undo := url.Values{"to": {"/tank/loft-jar"}, "change": {"1"}}
	w := p.post("/undo", undo)
	if to := w.Header().Get("Location"); to != "/tank/loft-jar" {
		t.Errorf("sent on to %q", to)
	}
	p.want(p.follow(w), http.StatusOK, "Undone: core front 2026-10-25 of tank &#34;loft-jar&#34; removed", `href="/tank/loft-jar/core/front/2026-10-25"`)
	p.want(p.post("/undo", undo), http.StatusNotFound, "no change left to take back")
}

// Undo leads to no page that is gone with the change, and to none of another's.
func TestUndo_leadsToWhatIsThere(t *testing.T) {
	for to, want := range map[string]string{
		"":                                     "/",
		"/tank/loft-jar/rehearse?method=stir":  "/tank/loft-jar/rehearse?method=stir",
		"/tank/loft-jar/core/front/2026-11-01": "/tank/loft-jar",
		"/tank/mill-race":                      "/",
		"/tank/mill-race/edit":                 "/",
		"/tank/new":                            "/tank/new",
		"//evil.example/tank":                  "/",
		"https://evil.example/":                "/",
		"/\\evil.example":                      "/",
		"tank/loft-jar":                        "/",
		"/%zz":                                 "/",
	} {
		p := newUnreadServer(t, layers.MM)
		p.follow(p.post("/tank/new", boxForm()))
		if got := p.post("/undo", url.Values{"to": {to}, "change": {"1"}}).Header().Get("Location"); got != want {
			t.Errorf("%q: sent on to %q, want %q", to, got, want)
		}
	}
}

// Undo takes back what its button said and nothing else: no later change of another window,
// and, pressed twice, not the one before.
func TestUndo_ofItsOwn(t *testing.T) {
	p := newUnreadServer(t, layers.MM)
	for _, clock := range []string{"07:00", "08:00", "09:00"} {
		p.follow(p.post("/tank/loft-jar/water", url.Values{"date": {fakeToday}, "time": {clock}, "ph": {"7"}}))
	}
	for _, step := range []struct {
		change string
		status int
		left   int // changes
	}{
		{"2", http.StatusConflict, 3}, {"3", http.StatusSeeOther, 2}, {"3", http.StatusConflict, 2},
		{"", http.StatusUnprocessableEntity, 2}, {"0", http.StatusUnprocessableEntity, 2}, {"last", http.StatusUnprocessableEntity, 2},
	} {
		p.want(p.post("/undo", url.Values{"change": {step.change}}), step.status)
		if len(p.store.past) != step.left {
			t.Errorf("undo of %q leaves %d changes, want %d", step.change, len(p.store.past), step.left)
		}
	}
}
