package web

import (
	"context"
	"errors"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"panecore/layers"
	"panecore/reports/web/site"
)

// fakeDevices keeps devices in memory. Its link is good once.
type fakeDevices struct {
	mu    sync.Mutex
	link  string            // empty: none
	names map[string]string // by key
	anew  bool              // each is seen for the first time today
}

const fakeCookie = "panecore-device-of-a-test"

func (f *fakeDevices) Cookie() string { return fakeCookie }

func (f *fakeDevices) Seen(key string) (known, anew bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.names[key] != "", f.anew
}

func (f *fakeDevices) Pair(link, agent string) (key string, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.link == "" || link != f.link {
		return "", site.WithKind(site.ErrInput, errors.New("this link was used before"))
	}
	f.link = ""
	key = "key of " + agent
	f.names[key] = agent
	return key, nil
}

func (f *fakeDevices) Link() (address string, until time.Time, ok bool) {
	return "http://" + lanHost + "/?key=" + f.link, time.Date(2026, 11, 25, 12, 10, 0, 0, time.UTC), f.link != ""
}

func (f *fakeDevices) NewLink() error {
	f.link = "a-new-link"
	return nil
}

func (f *fakeDevices) List() (list []Device, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for key, name := range f.names {
		list = append(list, Device{ID: strings.ReplaceAll(key, " ", "-"), Name: name, First: layers.FirstDate, Last: layers.FirstDate})
	}
	return list, nil
}

func (f *fakeDevices) Revoke(id string) (Device, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for key, name := range f.names {
		if strings.ReplaceAll(key, " ", "-") == id {
			delete(f.names, key)
			return Device{ID: id, Name: name, First: layers.FirstDate}, nil
		}
	}
	return Device{}, site.WithKind(site.ErrMissing, errors.New("shut out before"))
}

const lanHost = "192.0.2.7:4321"

// A lan is a page that is open to the network, and the devices that it lets in.
type lan struct {
	*testing.T
	page    http.Handler
	devices *fakeDevices
}

func newLAN(t *testing.T, encrypted bool) lan {
	t.Helper()
	d := &fakeDevices{link: "the-link", names: map[string]string{}}
	day := func() layers.Date { return layers.FirstDate }
	page, err := New(Options{
		Store: &fakeStore{}, Photos: &fakePhotos{}, Today: day, AsOf: day, Key: testKey,
		Hosts: []string{lanHost, "127.0.0.1:4321"}, Devices: d, Encrypted: encrypted,
	})
	if err != nil {
		t.Fatal(err)
	}
	return lan{t, page, d}
}

// ask sends a request from an address of the network.
func (l lan) ask(from, method, path string, form url.Values, cookies ...*http.Cookie) *httptest.ResponseRecorder {
	l.Helper()
	r := httptest.NewRequest(method, path, strings.NewReader(form.Encode()))
	r.Host, r.RemoteAddr = lanHost, from+":50000"
	r.Header.Set("User-Agent", "phone")
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	here := &net.TCPAddr{IP: net.ParseIP("192.0.2.7"), Port: 4321}
	r = r.WithContext(context.WithValue(r.Context(), http.LocalAddrContextKey, here))
	for _, cookie := range cookies {
		r.AddCookie(cookie)
	}
	w := httptest.NewRecorder()
	l.page.ServeHTTP(w, r)
	return w
}

const (
	phone   = "192.0.2.50"
	itself  = "192.0.2.7"
	another = "127.0.0.1"
)

// cookieOf is the cookie of that name that an answer sets.
func cookieOf(t *testing.T, w *httptest.ResponseRecorder, name string) *http.Cookie {
	t.Helper()
	list := w.Result().Cookies()
	i := slices.IndexFunc(list, func(c *http.Cookie) bool { return c.Name == name })
	if i < 0 {
		t.Fatalf("status %d, no cookie %s: %v", w.Code, name, list)
	}
	return list[i]
}

// A phone is let in once by a link, and then by the key that it keeps, until it is shut out.
func TestDevices_pairAndRevoke(t *testing.T) {
	l := newLAN(t, false)
	paired := l.ask(phone, "GET", "/?key=the-link", nil)
	if to := paired.Header().Get("Location"); paired.Code != http.StatusSeeOther || to != "/" {
		t.Fatalf("status %d, to %q", paired.Code, to)
	}
	key := cookieOf(t, paired, fakeCookie)
	if !key.HttpOnly || key.SameSite != http.SameSiteStrictMode || key.MaxAge < 365*24*60*60 || key.Secure {
		t.Errorf("the key is kept as %v", key)
	}
	if w := l.ask(phone, "GET", "/", nil, key); w.Code != http.StatusOK || strings.Contains(w.Body.String(), "/devices") {
		t.Errorf("status %d: %s", w.Code, w.Body)
	}
	if w := l.ask(phone, "GET", "/tank/new?key=the-link&day=1", nil, key); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/tank/new?day=1" {
		t.Errorf("the old link in a paired browser: status %d, to %q", w.Code, w.Header().Get("Location"))
	}
	if w := l.ask(phone, "GET", "/?key=the-link", nil); w.Code != http.StatusForbidden || !strings.Contains(w.Body.String(), "used before") {
		t.Errorf("another device by the same link: status %d: %s", w.Code, w.Body)
	}

	keeper := cookieOf(t, l.ask(itself, "GET", "/?key="+testKey, nil), (&guard{key: testKey}).cookie())
	page := l.ask(itself, "GET", "/devices", nil, keeper)
	if page.Code != http.StatusOK || !strings.Contains(page.Body.String(), `action="/devices/key-of-phone/revoke"`) || strings.Contains(page.Body.String(), "class=\"code\"") {
		t.Fatalf("status %d: %s", page.Code, page.Body)
	}
	proof := url.Values{formField: {(&guard{key: testKey}).proof()}}
	if w := l.ask(itself, "POST", "/devices/key-of-phone/revoke", proof, keeper); w.Code != http.StatusSeeOther {
		t.Errorf("status %d: %s", w.Code, w.Body)
	}
	if w := l.ask(phone, "GET", "/", nil, key); w.Code != http.StatusForbidden || !strings.Contains(w.Body.String(), "shut out since") {
		t.Errorf("who was shut out: status %d: %s", w.Code, w.Body)
	}
	if w := l.ask(itself, "POST", "/devices/link", proof, keeper); w.Code != http.StatusSeeOther {
		t.Errorf("status %d: %s", w.Code, w.Body)
	}
	if page := l.ask(itself, "GET", "/devices", nil, keeper).Body.String(); !strings.Contains(page, "/?key=a-new-link") || !strings.Contains(page, `<path d="M4 4h7`) || !strings.Contains(page, "until 12:10") {
		t.Errorf("no new link: %s", page)
	}
}

// None of these, from the network, is let in or changes anything.
func TestDevices_stops(t *testing.T) {
	g := &guard{key: testKey}
	own := &http.Cookie{Name: g.cookie(), Value: g.pass()}
	key := &http.Cookie{Name: fakeCookie, Value: "key of phone"}
	for name, attack := range map[string]func(l lan) *httptest.ResponseRecorder{
		"the server's own key, heard on the network":    func(l lan) *httptest.ResponseRecorder { return l.ask(phone, "GET", "/?key="+testKey, nil) },
		"the server's own cookie, heard on the network": func(l lan) *httptest.ResponseRecorder { return l.ask(phone, "GET", "/", nil, own) },
		"no key":             func(l lan) *httptest.ResponseRecorder { return l.ask(phone, "GET", "/", nil) },
		"an empty key":       func(l lan) *httptest.ResponseRecorder { return l.ask(phone, "GET", "/?key=", nil) },
		"a guessed link":     func(l lan) *httptest.ResponseRecorder { return l.ask(phone, "GET", "/?key=the-lin", nil) },
		"a link to a change": func(l lan) *httptest.ResponseRecorder { return l.ask(phone, "POST", "/undo?key=the-link", nil) },
		"a guessed device": func(l lan) *httptest.ResponseRecorder {
			return l.ask(phone, "GET", "/", nil, &http.Cookie{Name: fakeCookie, Value: "guess"})
		},
		"an empty device": func(l lan) *httptest.ResponseRecorder {
			return l.ask(phone, "GET", "/", nil, &http.Cookie{Name: fakeCookie})
		},
		"a device's key in the address": func(l lan) *httptest.ResponseRecorder {
			return l.ask(phone, "GET", "/?key=key+of+phone", nil)
		},
		"a change by a device without proof": func(l lan) *httptest.ResponseRecorder { return l.ask(phone, "POST", "/undo", nil, key) },
		"a change by a device with the proof of another": func(l lan) *httptest.ResponseRecorder {
			return l.ask(phone, "POST", "/undo", url.Values{formField: {mac("key of tablet", "form")}}, key)
		},
		"a change by a device with the server's own proof": func(l lan) *httptest.ResponseRecorder {
			return l.ask(phone, "POST", "/undo", url.Values{formField: {g.proof()}}, key)
		},
		"a device that would let in others": func(l lan) *httptest.ResponseRecorder {
			return l.ask(phone, "POST", "/devices/link", url.Values{formField: {mac("key of phone", "form")}}, key)
		},
		"a device that would see the link": func(l lan) *httptest.ResponseRecorder { return l.ask(phone, "GET", "/devices", nil, key) },
		"a device that would shut out others": func(l lan) *httptest.ResponseRecorder {
			return l.ask(phone, "POST", "/devices/key-of-phone/revoke", url.Values{formField: {mac("key of phone", "form")}}, key)
		},
	} {
		t.Run(name, func(t *testing.T) {
			l := newLAN(t, false)
			l.T = t
			l.devices.names["key of phone"] = "phone"
			w := attack(l)
			if w.Code < 400 || l.devices.link != "the-link" || len(l.devices.names) != 1 {
				t.Errorf("status %d, link %q, devices %v: %s", w.Code, l.devices.link, l.devices.names, w.Body)
			}
		})
	}
}

// A name on the web that was bound to this machine gets no link used up (DNS rebinding).
func TestDevices_onlyByOurNames(t *testing.T) {
	l := newLAN(t, false)
	r := httptest.NewRequest("GET", "/?key=the-link", nil)
	r.Host, r.RemoteAddr = "tanks.example:4321", phone+":50000"
	w := httptest.NewRecorder()
	l.page.ServeHTTP(w, r)
	if w.Code != http.StatusMisdirectedRequest || l.devices.link != "the-link" || len(w.Result().Cookies()) > 0 {
		t.Errorf("status %d, link %q", w.Code, l.devices.link)
	}
}

// A device goes on changing things with the page that it had open when the server was started
// again, and its key lasts from the day it was last seen.
func TestDevices_outlastTheServer(t *testing.T) {
	l, key := newLAN(t, false), &http.Cookie{Name: fakeCookie, Value: "key of phone"}
	l.devices.names["key of phone"] = "phone"
	l.devices.anew = true
	shown := l.ask(phone, "GET", "/", nil, key)
	if again := cookieOf(t, shown, fakeCookie); again.Value != key.Value || again.MaxAge <= 0 {
		t.Errorf("the key is not given anew: %v", again)
	}
	_, rest, _ := strings.Cut(shown.Body.String(), `<meta name="form" content="`)
	proof, _, _ := strings.Cut(rest, `"`)
	next := newLAN(t, false)
	next.devices.names["key of phone"] = "phone"
	if w := next.ask(phone, "POST", "/undo", url.Values{formField: {proof}, "change": {"1"}}, key); w.Code == http.StatusForbidden {
		t.Errorf("status %d: %s", w.Code, w.Body)
	}
}

// Over TLS no key is sent without it.
func TestDevices_secureCookies(t *testing.T) {
	l := newLAN(t, true)
	if c := cookieOf(t, l.ask(phone, "GET", "/?key=the-link", nil), fakeCookie); !c.Secure {
		t.Errorf("the device's key is kept as %v", c)
	}
	for _, from := range []string{itself, another} {
		if c := cookieOf(t, l.ask(from, "GET", "/?key="+testKey, nil), (&guard{key: testKey}).cookie()); !c.Secure {
			t.Errorf("the server's key is kept as %v", c)
		}
	}
}

// A page that only this machine reaches lets in no device, and has no page about them.
func TestDevices_none(t *testing.T) {
	p := newTestServer(t)
	p.want(p.get("/devices"), http.StatusNotFound, "--lan")
	if strings.Contains(p.get("/").Body.String(), "/devices") {
		t.Error("the page leads to devices")
	}
}
