package serve

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/palette"
	"panecore/reports/web"
)

// fishRoom is a logbook of so many tanks of 100 cores of 6 layers each (monthly, at two stations),
// with vessel and temperature, so that the oxygen is modelled too.
func fishRoom(tb testing.TB, tanks int) pageStore {
	tb.Helper()
	column := []palette.Color{{R: 0x8b, G: 0x5e, B: 0x3c}, {R: 0x5a, G: 0x3d, B: 0x28}, {R: 0xb4, G: 0x55, B: 0x2a},
		{R: 0x1f, G: 0x1d, B: 0x1b}, {R: 0x80, G: 0x80, B: 0x7c}, {R: 0xd9, G: 0xcb, B: 0xa6}}
	records := make([]layers.Tank, tanks)
	temperature := 24.0
	const newest = layers.Date(20783) // 2026-11-26
	for i := range records {
		tank := layers.Tank{ID: fmt.Sprintf("tank-%04d", i), SetUp: newest - 30*50, Flow: layers.Livestock,
			Vessel: &layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 300, WaterDepthMM: 280},
			Water:  []layers.WaterTest{{Date: newest, TemperatureC: &temperature}}}
		for month := range 50 {
			for _, station := range []string{"front", "left"} {
				core := layers.Core{Date: newest - layers.Date(30*(49-month)), Station: station, Lit: new(bool)}
				for l, color := range column {
					core.Layers = append(core.Layers, layers.Layer{ThicknessMM: 4 + float64((i+month+l)%97)/10, Color: color})
				}
				tank.Cores = append(tank.Cores, core)
			}
		}
		records[i] = tank
	}
	book, err := logbook.Open(tb.Context(), filepath.Join(tb.TempDir(), "log.db"), true)
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { book.Close() })
	noon := time.Date(2026, 11, 30, 12, 0, 0, 0, time.UTC)
	if _, err := book.Import(tb.Context(), noon, records, false); err != nil {
		tb.Fatal(err)
	}
	today := func() layers.Date { return newest + 4 }
	return newPageStore(&shell.Shell{Env: shell.Env{Stderr: io.Discard, Now: func() time.Time { return noon }}}, book, "", today)
}

// readStore counts how the tanks are read.
type readStore struct {
	pageStore
	all, one *atomic.Int64
}

func (s readStore) Tanks(ctx context.Context) ([]layers.Tank, error) {
	s.all.Add(1)
	return s.pageStore.Tanks(ctx)
}

func (s readStore) Tank(ctx context.Context, id string) (layers.Tank, error) {
	s.one.Add(1)
	return s.pageStore.Tank(ctx, id)
}

func counting(store pageStore) readStore {
	return readStore{store, new(atomic.Int64), new(atomic.Int64)}
}

// opener opens the overview as a browser that was let in, with the pages of a store.
func opener(tb testing.TB, store readStore) func() *httptest.ResponseRecorder {
	tb.Helper()
	const host, key = "127.0.0.1:80", "key"
	page, err := web.New(web.Options{Store: store, Photos: pagePhotoReader{}, Today: store.asOf, AsOf: store.asOf, Key: key, Hosts: []string{host}})
	if err != nil {
		tb.Fatal(err)
	}
	ask := func(path string, cookies ...*http.Cookie) *httptest.ResponseRecorder {
		r := httptest.NewRequest(http.MethodGet, path, nil)
		r.Host = host
		r.Header.Set("Accept-Encoding", "gzip")
		for _, cookie := range cookies {
			r.AddCookie(cookie)
		}
		w := httptest.NewRecorder()
		page.ServeHTTP(w, r)
		return w
	}
	cookies := ask("/?key=" + key).Result().Cookies()
	return func() *httptest.ResponseRecorder {
		w := ask("/", cookies...)
		if w.Code != http.StatusOK {
			tb.Fatal(w.Code, w.Body)
		}
		return w
	}
}

// Whatever changes, by the page or by other programs, the overview is what it would be if all were
// read and judged anew; only what has changed is.
func TestOverview_asJudgedAnew(t *testing.T) {
	store := counting(fishRoom(t, 6))
	ctx, now, book := t.Context(), store.Env.Now(), store.book
	day := store.asOf()
	store.asOf = func() layers.Date { return day }
	open := opener(t, store)
	undo := func() error {
		_, err := book.Undo(ctx, now, 0)
		return err
	}
	hand := layers.Event{Date: day, Kind: layers.EventSiphon, Share: new(0.5), DepthMM: new(10.0)}
	for _, c := range []struct {
		name     string
		do       func() error
		all, one int64 // readings of all tanks and of single ones
	}{
		{"first", func() error { return nil }, 1, 0},
		{"nothing", func() error { return nil }, 0, 0},
		{"an event", func() error { return book.AddEvent(ctx, now, "tank-0001", hand) }, 0, 1},
		{"undo", undo, 0, 1},
		{"a colour of its own", func() error {
			return book.AddPrototype(ctx, now, logbook.Prototype{Tank: "tank-0002", Name: "dust", Band: palette.Rust, Color: palette.Color{R: 0x5a, G: 0x3d, B: 0x28}, Spread: 3})
		}, 0, 1},
		{"a colour of all", func() error {
			return book.AddPrototype(ctx, now, logbook.Prototype{Name: "dirt", Band: palette.Native, Color: palette.Color{R: 0x1f, G: 0x1d, B: 0x1b}, Spread: 3})
		}, 1, 0},
		{"undo of a colour", undo, 1, 0},
		{"retired", func() error { return book.SetRetired(ctx, now, "tank-0003", true) }, 0, 0},
		{"a new tank", func() error { return book.AddTank(ctx, now, layers.Tank{ID: "new"}) }, 0, 1},
		{"kept again", func() error { return book.SetRetired(ctx, now, "tank-0003", false) }, 0, 1},
		{"a day later", func() error { day++; return nil }, 1, 0},
	} {
		if err := c.do(); err != nil {
			t.Fatal(err)
		}
		store.all.Store(0)
		store.one.Store(0)
		got := open().Body.String()
		if all, one := store.all.Load(), store.one.Load(); all != c.all || one != c.one {
			t.Errorf("%s: read all tanks %d times and single ones %d times, want %d and %d", c.name, all, one, c.all, c.one)
		}
		if want := opener(t, store)().Body.String(); got != want {
			t.Errorf("%s: the overview is not as if judged anew", c.name)
		}
	}
}

// Overviews at once, with changes between, are judged one after the other, and the last is right.
func TestOverview_atOnce(t *testing.T) {
	store := counting(fishRoom(t, 4))
	open := opener(t, store)
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for range 4 {
				open()
			}
		})
	}
	for i := range 4 {
		if err := store.AddEvent(t.Context(), fmt.Sprintf("tank-%04d", i), layers.Event{Date: store.asOf(), Kind: layers.EventNote, Note: "seen"}); err != nil {
			t.Fatal(err)
		}
	}
	all.Wait()
	if open().Body.String() != opener(t, store)().Body.String() {
		t.Error("the overview is not as if judged anew")
	}
}

// BenchmarkOverview is what a keeper of 200 tanks waits for who opens the page: for the first time,
// again, and after one of the tanks has changed. It tells the bytes that are sent.
func BenchmarkOverview(b *testing.B) {
	store := counting(fishRoom(b, 200))
	b.Run("first", func(b *testing.B) {
		for b.Loop() {
			open := opener(b, store)
			open()
		}
	})
	open := opener(b, store)
	w := open()
	b.Run("again", func(b *testing.B) {
		for b.Loop() {
			open()
		}
		b.ReportMetric(float64(w.Body.Len())/1000, "kB")
	})
	b.Run("one changed", func(b *testing.B) {
		day := layers.Date(18000)
		for b.Loop() {
			day++
			if err := store.AddEvent(b.Context(), "tank-0100", layers.Event{Date: day, Kind: layers.EventNote, Note: "seen"}); err != nil {
				b.Fatal(err)
			}
			open()
		}
	})
}
