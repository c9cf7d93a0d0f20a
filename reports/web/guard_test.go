package web

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

const (
	testKey  = "an-invented-key-of-32-letters-000"
	testHost = "127.0.0.1:4321"
)

// guarded is a page behind the guard that tells when it was reached.
func guarded() (http.Handler, *guard, *int) {
	reached := 0
	g := &guard{key: testKey, hosts: []string{testHost, "localhost:4321"}}
	return g.admit(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { reached++ })), g, &reached
}

// Each is an attack, and the request that makes it. None reaches the page.
func TestGuard_stops(t *testing.T) {
	_, g, _ := guarded()
	in := &http.Cookie{Name: g.cookie(), Value: g.pass()}
	form := func(body string) *http.Request {
		r := httptest.NewRequest(http.MethodPost, "/tank/kettle/remove", strings.NewReader(body))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.AddCookie(in)
		return r
	}
	for name, attack := range map[string]func() *http.Request{
		"another program of the machine, without the key": func() *http.Request { return httptest.NewRequest(http.MethodGet, "/", nil) },
		"a guessed key": func() *http.Request { return httptest.NewRequest(http.MethodGet, "/?key=guess", nil) },
		"a guessed cookie": func() *http.Request {
			r := httptest.NewRequest(http.MethodGet, "/", nil)
			r.AddCookie(&http.Cookie{Name: g.cookie(), Value: "guess"})
			return r
		},
		"the proof taken for the cookie": func() *http.Request {
			r := httptest.NewRequest(http.MethodGet, "/", nil)
			r.AddCookie(&http.Cookie{Name: g.cookie(), Value: g.proof()})
			return r
		},
		"the cookie, as another port of this machine sees it, taken for the key": func() *http.Request {
			return httptest.NewRequest(http.MethodGet, "/?key="+g.pass(), nil)
		},
		"a name on the web that was bound to this machine (DNS rebinding)": func() *http.Request {
			r := httptest.NewRequest(http.MethodGet, "/", nil)
			r.Host = "tanks.example:4321"
			r.AddCookie(in)
			return r
		},
		"another server of this machine under our name": func() *http.Request {
			r := httptest.NewRequest(http.MethodGet, "/", nil)
			r.Host = "127.0.0.1:9999"
			r.AddCookie(in)
			return r
		},
		"a form on a page elsewhere": func() *http.Request {
			r := form("note=x")
			r.Header.Set("Origin", "http://tanks.example")
			return r
		},
		"a form elsewhere that somehow has the proof": func() *http.Request {
			r := form(formField + "=" + g.proof())
			r.Header.Set("Origin", "http://tanks.example")
			return r
		},
		"a form from another port of this machine": func() *http.Request {
			r := form(formField + "=" + g.proof())
			r.Header.Set("Sec-Fetch-Site", "same-site")
			return r
		},
		"a form from a page without an origin, as in a sandbox": func() *http.Request {
			r := form(formField + "=" + g.proof())
			r.Header.Set("Origin", "null")
			return r
		},
		"a form that the browser says is of its user, without the proof": func() *http.Request {
			r := form("note=x")
			r.Header.Set("Sec-Fetch-Site", "none")
			return r
		},
		"a form without the proof":    func() *http.Request { return form("note=x") },
		"a form with a guessed proof": func() *http.Request { return form(formField + "=guess") },
		"the proof taken for the key": func() *http.Request { return httptest.NewRequest(http.MethodGet, "/?key="+g.proof(), nil) },
		"the proof in a body that browsers send across origins": func() *http.Request {
			r := form(formField + "=" + g.proof())
			r.Header.Set("Content-Type", "text/plain")
			return r
		},
		"the key on a change, to pass by the cookie": func() *http.Request {
			return httptest.NewRequest(http.MethodPost, "/undo?key="+testKey, nil)
		},
		"a method that is neither": func() *http.Request {
			r := httptest.NewRequest(http.MethodDelete, "/", nil)
			r.AddCookie(in)
			return r
		},
	} {
		t.Run(name, func(t *testing.T) {
			h, _, reached := guarded()
			r := attack()
			if r.Host == "example.com" { // httptest's own
				r.Host = testHost
			}
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			if *reached > 0 || w.Code < 400 || len(w.Result().Cookies()) > 0 {
				t.Errorf("got in: status %d, cookies %v", w.Code, w.Result().Cookies())
			}
		})
	}
}

// A script is told in JSON why it was not let in, others on a page that says how to come in and
// leads nowhere: it has no script, no style and no address.
func TestGuard_tellsTheWayIn(t *testing.T) {
	const want = "open the page with the full address that panecore printed, including its key"
	ask := func(accept string) *httptest.ResponseRecorder {
		h, _, _ := guarded()
		r := httptest.NewRequest(http.MethodGet, "/tank/kettle", nil)
		r.Host = testHost
		r.Header.Set("Accept", accept)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != http.StatusForbidden {
			t.Errorf("%s: status %d", accept, w.Code)
		}
		return w
	}
	var told struct{ Error string }
	if err := json.Unmarshal(ask("application/json").Body.Bytes(), &told); err != nil || told.Error != want {
		t.Errorf("%v: a script is told %q", err, told.Error)
	}
	w := ask("text/html")
	page := w.Body.String()
	if kind := w.Header().Get("Content-Type"); !strings.HasPrefix(kind, "text/html") || !strings.Contains(page, want) || !strings.Contains(page, "start <code>panecore serve</code> again") {
		t.Errorf("%s: %s", kind, page)
	}
	for _, bad := range []string{"<script", "<style", "<link", "style=", "href", "src=", "action=", testHost, "kettle", "://"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page has %q: %s", bad, page)
		}
	}
}

// A keeper comes in by the address that was printed, and may then look and change.
func TestGuard_letsIn(t *testing.T) {
	h, g, reached := guarded()
	first := httptest.NewRequest(http.MethodGet, "//evil.example/../tank?key="+testKey+"&day=1", nil)
	first.Host = testHost
	w := httptest.NewRecorder()
	h.ServeHTTP(w, first)
	to := w.Header().Get("Location")
	if w.Code != http.StatusSeeOther || strings.Contains(to, testKey) || strings.HasPrefix(to, "//") || !strings.HasSuffix(to, "?day=1") {
		t.Fatalf("status %d, sent on to %q", w.Code, to)
	}
	cookies := w.Result().Cookies()
	if len(cookies) != 1 || !cookies[0].HttpOnly || cookies[0].SameSite != http.SameSiteStrictMode {
		t.Fatalf("cookies %v, want one that no script and no other site has", cookies)
	}
	if strings.Contains(cookies[0].String(), testKey) {
		t.Errorf("the key is in the cookie, which browsers send to every port: %s", cookies[0])
	}
	look := httptest.NewRequest(http.MethodGet, "/", nil)
	change := httptest.NewRequest(http.MethodPost, "/undo", strings.NewReader(formField+"="+g.proof()))
	change.Header.Set("Content-Type", "application/x-www-form-urlencoded; charset=utf-8")
	change.Header.Set("Origin", "http://"+testHost)
	change.Header.Set("Sec-Fetch-Site", "same-origin")
	send := httptest.NewRequest(http.MethodPost, "/photo", strings.NewReader("bytes"))
	send.Header.Set(formHeader, g.proof())
	for i, r := range []*http.Request{look, change, send} {
		r.Host = testHost
		r.AddCookie(cookies[0])
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if *reached != i+1 {
			t.Errorf("%s %s was refused: %d %s", r.Method, r.URL, w.Code, w.Body)
		}
		if w.Header().Get("Content-Security-Policy") != policy || w.Header().Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s %s: headers are missing: %v", r.Method, r.URL, w.Header())
		}
	}
}

// Browsers ask for an icon of their own accord after a page that names none, as that of who is
// not let in: it is no fault once they are.
func TestGuard_icon(t *testing.T) {
	p := newTestServer(t)
	if got := p.get("/favicon.ico"); got.Code != http.StatusNoContent {
		t.Errorf("status %d", got.Code)
	}
}
