package web

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"html"
	"image"
	"io"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/web/site"
)

// fakeToday is the day on which the fake page is used: that of the demo's newest reading.
const fakeToday = "2026-11-01"

// fakeStore keeps records in memory under the rules of the logbook document.
type fakeStore struct {
	mu      sync.Mutex
	today   layers.Date
	tanks   []layers.Tank
	own     []palette.Prototype
	photos  map[reading]site.KeptPhoto
	past    []fakeChange
	made    int64         // changes so far, those taken back among them
	broken  error         // not nil: every change fails with it
	noEvent error         // not nil: no event can be entered, and why
	hold    chan struct{} // not nil: every change waits for it to be closed
}

// reading is what sets the cores of a fake store apart.
type reading struct {
	tank, station string
	date          layers.Date
}

// fakeChange is what stood before a change.
type fakeChange struct {
	id    int64
	what  string
	tanks []layers.Tank
}

func (f *fakeStore) Tanks(context.Context) ([]layers.Tank, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return slices.Clone(f.tanks), nil
}

// Revisions are told by what the tanks and the keeper's own colours are, since tests change them
// as they like.
func (f *fakeStore) Revisions(context.Context) (map[string]int64, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	found := map[string]int64{}
	for _, tank := range f.tanks {
		sum := fnv.New64a()
		fmt.Fprint(sum, site.Fingerprint(tank), f.own)
		found[tank.ID] = int64(sum.Sum64() >> 1)
	}
	return found, nil
}

func (f *fakeStore) Tank(_ context.Context, id string) (layers.Tank, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.tank(id)
}

func (f *fakeStore) tank(id string) (layers.Tank, error) {
	i := slices.IndexFunc(f.tanks, func(t layers.Tank) bool { return t.ID == id })
	if i < 0 {
		return layers.Tank{}, missing("tank %q", id)
	}
	return f.tanks[i], nil
}

func missing(format string, args ...any) error {
	return site.WithKind(site.ErrMissing, fmt.Errorf("found no "+format+", want one that the logbook holds", args...))
}

func taken(format string, args ...any) error {
	return site.WithKind(site.ErrTaken, fmt.Errorf("found "+format+" in the logbook already, want another one", args...))
}

func (f *fakeStore) Own(context.Context) (func(string) []palette.Prototype, error) {
	return func(string) []palette.Prototype { return f.own }, nil
}

// change makes a change to a tank, after the entries that it brings were held to the rules
// of the document.
func (f *fakeStore) change(what, id string, entries layers.Tank, make func(t *layers.Tank, checked layers.Tank) error) error {
	if f.hold != nil {
		<-f.hold
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.broken != nil {
		return f.broken
	}
	i := slices.IndexFunc(f.tanks, func(t layers.Tank) bool { return t.ID == id })
	if i < 0 {
		return missing("tank %q", id)
	}
	changed := f.tanks[i]
	if entries.ID == "" {
		entries.ID, entries.SetUp = id, changed.SetUp
	}
	checked, err := f.check(entries)
	if err != nil {
		return err
	}
	changed.Cores, changed.Water, changed.Events = slices.Clone(changed.Cores), slices.Clone(changed.Water), slices.Clone(changed.Events)
	if err := make(&changed, checked); err != nil {
		return err
	}
	f.remember(what)
	f.tanks = slices.Clone(f.tanks)
	f.tanks[i] = changed
	return nil
}

// remember keeps what stands before a change.
func (f *fakeStore) remember(what string) {
	f.made++
	f.past = append(f.past, fakeChange{f.made, what, slices.Clone(f.tanks)})
}

// check holds a tank to the rules of the document.
func (f *fakeStore) check(tank layers.Tank) (layers.Tank, error) {
	var document bytes.Buffer
	err := layers.Encode(&document, []layers.Tank{tank})
	if err != nil {
		return tank, err
	}
	checked, err := layers.Decode(&document, f.today)
	var faults layers.Faults
	switch {
	case errors.As(err, &faults):
		return tank, site.WithKind(site.ErrInput, faults)
	case err != nil:
		return tank, err
	}
	return checked[0], nil
}

func (f *fakeStore) AddTank(_ context.Context, tank layers.Tank) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.broken != nil {
		return f.broken
	}
	checked, err := f.check(tank)
	if err != nil {
		return err
	}
	if _, err := f.tank(tank.ID); err == nil {
		return taken("tank %q", tank.ID)
	}
	f.remember(fmt.Sprintf("tank %q added", tank.ID))
	f.tanks = append(slices.Clip(f.tanks), checked)
	return nil
}

func (f *fakeStore) EditTank(_ context.Context, tank layers.Tank) error {
	tank.Cores, tank.Water, tank.Events = nil, nil, nil
	return f.change(fmt.Sprintf("tank %q amended", tank.ID), tank.ID, tank, func(t *layers.Tank, checked layers.Tank) error {
		for _, core := range t.Cores {
			if core.Date < checked.SetUp {
				return site.WithKind(site.ErrInput, layers.Faults{{Where: fmt.Sprintf("tank %q, set_up", tank.ID), Found: checked.SetUp.String(), Want: core.Date.String() + " (its oldest core) or earlier"}})
			}
		}
		checked.Cores, checked.Water, checked.Events = t.Cores, t.Water, t.Events
		*t = checked
		return nil
	})
}

// coreAt is the place of a core among a tank's, -1 if there is none.
func coreAt(t *layers.Tank, station string, date layers.Date) int {
	return slices.IndexFunc(t.Cores, func(c layers.Core) bool { return c.Station == station && c.Date == date })
}

func (f *fakeStore) AddCore(_ context.Context, tank string, core layers.Core) error {
	name := fmt.Sprintf("core %s %s of tank %q", core.Station, core.Date, tank)
	return f.change(name+" added", tank, layers.Tank{Cores: []layers.Core{core}}, func(t *layers.Tank, checked layers.Tank) error {
		if coreAt(t, core.Station, core.Date) >= 0 {
			return taken("%s", name)
		}
		t.Cores = append(t.Cores, checked.Cores[0])
		return nil
	})
}

func (f *fakeStore) AmendCore(_ context.Context, tank, station string, date layers.Date, core layers.Core) error {
	name := fmt.Sprintf("core %s %s of tank %q", station, date, tank)
	return f.change(name+" amended", tank, layers.Tank{Cores: []layers.Core{core}}, func(t *layers.Tank, checked layers.Tank) error {
		i, other := coreAt(t, station, date), coreAt(t, core.Station, core.Date)
		switch {
		case i < 0:
			return missing("%s", name)
		case other >= 0 && other != i:
			return taken("core %s %s of tank %q", core.Station, core.Date, tank)
		}
		t.Cores[i] = checked.Cores[0]
		return nil
	})
}

func (f *fakeStore) RemoveCore(_ context.Context, tank, station string, date layers.Date) error {
	name := fmt.Sprintf("core %s %s of tank %q", station, date, tank)
	return f.change(name+" removed", tank, layers.Tank{}, func(t *layers.Tank, _ layers.Tank) error {
		i := coreAt(t, station, date)
		if i < 0 {
			return missing("%s", name)
		}
		t.Cores = slices.Delete(t.Cores, i, i+1)
		return nil
	})
}

func (f *fakeStore) FileCore(ctx context.Context, tank string, core layers.Core, photo site.KeptPhoto, replace bool) error {
	err := f.AddCore(ctx, tank, core)
	if replace && errors.Is(err, site.ErrTaken) {
		err = f.AmendCore(ctx, tank, core.Station, core.Date, core)
	}
	if err == nil {
		f.mu.Lock()
		defer f.mu.Unlock()
		f.photos[reading{tank, core.Station, core.Date}] = photo
	}
	return err
}

func (f *fakeStore) LastPhoto(_ context.Context, tank, station string) (newest site.KeptPhoto, found bool, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	var last layers.Date
	for key, photo := range f.photos {
		if key.tank == tank && key.station == station && key.date >= last {
			newest, found, last = photo, true, key.date
		}
	}
	return newest, found, nil
}

func (f *fakeStore) PicksOf(_ context.Context, tank, station string, date layers.Date) (picks []byte, found bool, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	photo, found := f.photos[reading{tank, station, date}]
	return photo.Picks, found, nil
}

func (f *fakeStore) Strips(_ context.Context, tank layers.Tank) (list []reports.Strip, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, core := range tank.Cores {
		if _, found := f.photos[reading{tank.ID, core.Station, core.Date}]; found {
			list = append(list, reports.Strip{Station: core.Station, Date: core.Date, WidthMM: 20, AboveMM: 5, DepthMM: core.DepthMM(), Carded: true})
		}
	}
	return list, nil
}

func (f *fakeStore) PhotoFile(_ context.Context, tank layers.Tank, core layers.Core) ([]byte, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	photo, found := f.photos[reading{tank.ID, core.Station, core.Date}]
	if !found {
		return nil, missing("photo of core %s %s", core.Station, core.Date)
	}
	return photo.Content, nil
}

func (f *fakeStore) Drawn(ctx context.Context, tank layers.Tank, core layers.Core) ([]byte, error) {
	content, err := f.PhotoFile(ctx, tank, core)
	return append([]byte("drawn on "), content...), err
}

func (f *fakeStore) Strip(ctx context.Context, tank layers.Tank, core layers.Core) ([]byte, error) {
	content, err := f.PhotoFile(ctx, tank, core)
	return append([]byte("strip of "), content...), err
}

func (f *fakeStore) Change(context.Context, layers.Tank, layers.Core, layers.Core) (c reports.Change, err error) {
	c.CellMM, c.Width, c.Difference, c.Least, c.Share = 1, 2, []float64{0, 30, 0, 0}, 8, 0.25
	for i := range c.Strips {
		c.Strips[i] = reports.Strip{WidthMM: 2, AboveMM: 1, DepthMM: 2, Picture: image.NewRGBA(image.Rect(0, 0, 8, 12)), Carded: true}
	}
	return c, nil
}

func (f *fakeStore) AddWater(_ context.Context, tank string, test layers.WaterTest) error {
	name := strings.TrimSpace("water test " + test.Date.String() + " " + test.Time)
	return f.change(fmt.Sprintf("%s of tank %q added", name, tank), tank, layers.Tank{Water: []layers.WaterTest{test}}, func(t *layers.Tank, checked layers.Tank) error {
		if slices.ContainsFunc(t.Water, func(w layers.WaterTest) bool { return w.Date == test.Date && w.Time == test.Time }) {
			return taken("%s of tank %q", name, tank)
		}
		t.Water = append(t.Water, checked.Water[0])
		return nil
	})
}

func (f *fakeStore) RemoveWater(_ context.Context, tank string, date layers.Date, clock string) error {
	name := fmt.Sprintf("%s of tank %q", strings.TrimSpace("water test "+date.String()+" "+clock), tank)
	return f.change(name+" removed", tank, layers.Tank{}, func(t *layers.Tank, _ layers.Tank) error {
		i := slices.IndexFunc(t.Water, func(w layers.WaterTest) bool { return w.Date == date && w.Time == clock })
		if i < 0 {
			return missing("%s", name)
		}
		t.Water = slices.Delete(t.Water, i, i+1)
		return nil
	})
}

func (f *fakeStore) AddEvent(_ context.Context, tank string, event layers.Event) error {
	if f.noEvent != nil {
		return f.noEvent
	}
	name := fmt.Sprintf("event %s %s of tank %q", event.Kind, event.Date, tank)
	return f.change(name+" added", tank, layers.Tank{Events: []layers.Event{event}}, func(t *layers.Tank, checked layers.Tank) error {
		if slices.ContainsFunc(t.Events, func(e layers.Event) bool { return reflect.DeepEqual(e, event) }) {
			return taken("%s", name)
		}
		t.Events = append(t.Events, checked.Events[0])
		return nil
	})
}

func (f *fakeStore) RemoveEvent(_ context.Context, tank string, event layers.Event) error {
	name := fmt.Sprintf("event %s %s of tank %q", event.Kind, event.Date, tank)
	return f.change(name+" removed", tank, layers.Tank{}, func(t *layers.Tank, _ layers.Tank) error {
		i := slices.IndexFunc(t.Events, func(e layers.Event) bool { return reflect.DeepEqual(e, event) })
		if i < 0 {
			return missing("%s", name)
		}
		t.Events = slices.Delete(t.Events, i, i+1)
		return nil
	})
}

func (f *fakeStore) Undo(_ context.Context, change int64) (string, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	n := len(f.past)
	if n == 0 {
		return "", site.WithKind(site.ErrMissing, errors.New("found no change left to take back"))
	}
	last := f.past[n-1]
	if last.id != change {
		return "", site.WithKind(site.ErrTaken, errors.New("found another change to be the last one"))
	}
	f.past, f.tanks = f.past[:n-1], last.tanks
	return last.what, nil
}

func (f *fakeStore) Last(context.Context) (int64, string, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if n := len(f.past); n > 0 {
		return f.past[n-1].id, f.past[n-1].what, nil
	}
	return 0, "", nil
}

func (f *fakeStore) Report(_ context.Context, id string) ([]byte, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	tank, err := f.tank(id)
	return fmt.Appendf(nil, "<!doctype html><title>Report of %s</title>", html.EscapeString(tank.ID)), err
}

func (f *fakeStore) Export(_ context.Context, w io.Writer) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return layers.Encode(w, f.tanks)
}

func (f *fakeStore) Backup(_ context.Context, w io.Writer) error {
	_, err := io.WriteString(w, "a copy of the logbook")
	return err
}

// testPage is the page on a fake store, as a keeper who was let in meets it.
type testPage struct {
	http.Handler // sends the cookie along with every request
	t            *testing.T
	store        *fakeStore
	guard        *guard
}

// newTestServer is a page on a fake store that holds the demo's tanks.
func newTestServer(t *testing.T) *testPage {
	t.Helper()
	return newTestServerOn(t, Options{})
}

// newTestServerOn is newTestServer with options of its own beside those that it needs.
func newTestServerOn(t *testing.T, o Options) *testPage {
	t.Helper()
	today, err := layers.ParseDate(fakeToday)
	if err != nil {
		t.Fatal(err)
	}
	store := &fakeStore{today: today, tanks: demoTanks(t, today), photos: map[reading]site.KeptPhoto{}}
	o.Store, o.Today = store, func() layers.Date { return today }
	if o.AsOf == nil {
		o.AsOf = o.Today
	}
	o.Key, o.Hosts = testKey, []string{testHost}
	page, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	p := &testPage{t: t, store: store, guard: &guard{key: o.Key, hosts: o.Hosts}}
	p.Handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Host = testHost
		r.AddCookie(&http.Cookie{Name: p.guard.cookie(), Value: p.guard.pass()})
		page.ServeHTTP(w, r)
	})
	return p
}

func demoTanks(t *testing.T, today layers.Date) []layers.Tank {
	t.Helper()
	file, err := os.Open("../../cmd/internal/demo/logbook.json")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	tanks, err := layers.Decode(file, today)
	if err != nil {
		t.Fatal(err)
	}
	return tanks
}

// send makes a request and returns the answer.
func (p *testPage) send(r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	p.ServeHTTP(w, r)
	return w
}

// get asks for a page.
func (p *testPage) get(path string) *httptest.ResponseRecorder {
	return p.send(httptest.NewRequest(http.MethodGet, path, nil))
}

// What a page has in its forms.
var (
	formFields     = regexp.MustCompile(`(?s)<input[^>]*>|<select.*?</select>|<textarea.*?</textarea>`)
	selectedOption = regexp.MustCompile(`value="([^"]*)" selected`)
)

// formOf is a form of a page as a browser sends it where nothing is touched; action is the
// address that it goes to.
func (p *testPage) formOf(path, action string) url.Values {
	p.t.Helper()
	_, form, found := strings.Cut(p.get(path).Body.String(), `action="`+action+`"`)
	if !found {
		p.t.Fatalf("%s has no form that goes to %s", path, action)
	}
	form, _, _ = strings.Cut(form, "</form>")
	between := func(text, before, after string) string {
		_, text, _ = strings.Cut(text, before)
		text, _, _ = strings.Cut(text, after)
		return html.UnescapeString(text)
	}
	sent := url.Values{}
	for _, field := range formFields.FindAllString(form, -1) {
		name, value := between(field, `name="`, `"`), between(field, `value="`, `"`)
		switch kind := between(field, `type="`, `"`); {
		case strings.HasPrefix(field, "<textarea"):
			value = between(field, ">", "</textarea>")
		case strings.HasPrefix(field, "<select"):
			if chosen := selectedOption.FindStringSubmatch(field); chosen != nil {
				value = html.UnescapeString(chosen[1])
			}
		case (kind == "radio" || kind == "checkbox") && !strings.Contains(field, " checked"):
			continue
		}
		if name != "" && name != formField {
			sent.Add(name, value)
		}
	}
	return sent
}

// post sends a form, with the proof that it is ours.
func (p *testPage) post(path string, form url.Values) *httptest.ResponseRecorder {
	sent := url.Values{formField: {p.guard.proof()}}
	for name, values := range form {
		sent[name] = values
	}
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(sent.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", "http://"+testHost)
	return p.send(r)
}

// file sends the form of a core, and, where it comes back with a question, that the core is
// right as it stands.
func (p *testPage) file(path string, form url.Values) *httptest.ResponseRecorder {
	p.t.Helper()
	w := p.post(path, form)
	mark, asked := markOf(w)
	if !asked {
		return w
	}
	sure := maps.Clone(form)
	sure.Set("asked", mark)
	sure.Set("do", string(reports.SlipNone))
	return p.post(path, sure)
}

// markOf is the fingerprint of the core that a form asks about, if it asks.
func markOf(w *httptest.ResponseRecorder) (mark string, asked bool) {
	_, after, asked := strings.Cut(w.Body.String(), `<input type="hidden" name="asked" value="`)
	mark, _, _ = strings.Cut(after, `"`)
	return mark, asked
}

// postBytes sends what a script sends, with the proof in a header, and wants JSON.
func (p *testPage) postBytes(path, contentType string, body []byte) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodPost, path, bytes.NewReader(body))
	r.Header.Set("Content-Type", contentType)
	r.Header.Set("Accept", "application/json")
	r.Header.Set("Origin", "http://"+testHost)
	r.Header.Set(formHeader, p.guard.proof())
	return p.send(r)
}

// postJSON is postBytes of a value.
func (p *testPage) postJSON(path string, value any) *httptest.ResponseRecorder {
	body, err := json.Marshal(value)
	if err != nil {
		p.t.Fatal(err)
	}
	return p.postBytes(path, "application/json", body)
}

// follow goes where an answer to a form sends the browser on to, with what it is to tell.
func (p *testPage) follow(w *httptest.ResponseRecorder) *httptest.ResponseRecorder {
	p.t.Helper()
	if w.Code != http.StatusSeeOther {
		p.t.Fatalf("status %d, want a redirect: %s", w.Code, w.Body)
	}
	to, _, _ := strings.Cut(w.Header().Get("Location"), "#") // a browser keeps the fragment to itself
	r := httptest.NewRequest(http.MethodGet, to, nil)
	for _, cookie := range w.Result().Cookies() {
		r.AddCookie(cookie)
	}
	return p.send(r)
}

// want holds an answer to a status and to texts that must be in it.
func (p *testPage) want(w *httptest.ResponseRecorder, status int, texts ...string) {
	p.t.Helper()
	matter := w.Body.String()
	if _, main, ok := strings.Cut(matter, `<main id="main">`); ok { // what is on every page tells nothing
		matter = main
	}
	if w.Code != status {
		p.t.Errorf("status %d, want %d: %s", w.Code, status, matter)
	}
	whole := strings.ReplaceAll(w.Body.String(), site.Unbroken, " ")
	for _, text := range texts {
		if !strings.Contains(whole, text) {
			p.t.Errorf("the answer lacks %q: %s", text, matter)
		}
	}
}

// A page that stands on the fake store is reached, and its guard still holds.
func TestFake_pageIsReached(t *testing.T) {
	p := newTestServer(t)
	p.want(p.get("/"), http.StatusOK)
	p.want(p.send(httptest.NewRequest(http.MethodPost, "/undo", nil)), http.StatusForbidden)
}

// The fake keeps to the logbook's rules: no core twice, no date to come, and undo gives
// back what stood.
func TestFake_keepsTheRules(t *testing.T) {
	p, ctx := newTestServer(t), t.Context()
	before, _ := p.store.Tanks(ctx)
	tank := before[0]
	core := tank.Cores[0]
	if err := p.store.AddCore(ctx, tank.ID, core); !errors.Is(err, site.ErrTaken) {
		t.Errorf("a core twice: %v", err)
	}
	core.Date = p.store.today + 1
	if err := p.store.AddCore(ctx, tank.ID, core); !errors.Is(err, site.ErrInput) {
		t.Errorf("a core to come: %v", err)
	}
	if err := p.store.RemoveCore(ctx, tank.ID, tank.Cores[0].Station, tank.Cores[0].Date); err != nil {
		t.Fatal(err)
	}
	if _, err := p.store.Undo(ctx, 1); err != nil {
		t.Fatal(err)
	}
	if after, _ := p.store.Tanks(ctx); !reflect.DeepEqual(before, after) {
		t.Error("undo did not give back what stood")
	}
}
