package logbook

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"panecore/layers"
	"panecore/palette"
)

// withKettle is a logbook that holds the contract's tank.
func withKettle(t *testing.T) *Book {
	t.Helper()
	b := newBook(t)
	if err := b.AddTank(t.Context(), noon, kettle(t)); err != nil {
		t.Fatal(err)
	}
	return b
}

func day(t *testing.T, text string) layers.Date {
	t.Helper()
	date, err := layers.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return date
}

// A refusal is one line that says what was found and what is wanted, and changes nothing.
func TestBook_refusals(t *testing.T) {
	b := withKettle(t)
	before := export(t, b)
	ctx := t.Context()
	front := kettle(t).Cores[0]
	core := func(change func(*layers.Core)) layers.Core {
		c := front
		change(&c)
		return c
	}
	ph := 14.0
	for want, do := range map[string]func() error{
		`found no tank "ketle", want one that the logbook holds: did you mean kettle?`: func() error {
			return b.AddCore(ctx, noon, "ketle", front)
		},
		`found tank "kettle" in the logbook already, want another one`: func() error {
			return b.AddTank(ctx, noon, layers.Tank{ID: "kettle"})
		},
		`found core front 2026-11-01 of tank "kettle" in the logbook already, want another one`: func() error {
			return b.AddCore(ctx, noon, "kettle", front)
		},
		`found no core frnt 2026-11-01 of tank "kettle", want one that the logbook holds: did you mean core front 2026-11-01?`: func() error {
			return b.RemoveCore(ctx, noon, "kettle", "frnt", front.Date)
		},
		`found no core back 2025-01-01 of tank "kettle", want one that the logbook holds`: func() error {
			return b.AmendCore(ctx, noon, "kettle", "back", day(t, "2025-01-01"), front)
		},
		`tank "kettle", cores[0], date: found "2026-12-02", want 2026-12-01 (today) or earlier`: func() error {
			return b.AddCore(ctx, noon, "kettle", core(func(c *layers.Core) { c.Date, c.Station = day(t, "2026-12-02"), "left" }))
		},
		`tank "kettle", core front 2020-01-01, date: found 2020-01-01, want 2024-10-12 (the tank's set_up) or later`: func() error {
			return b.AddCore(ctx, noon, "kettle", core(func(c *layers.Core) { c.Date = day(t, "2020-01-01") }))
		},
		`tank "kettle", core front 2026-11-01, layers: found nothing, want this field: it can't be left out`: func() error {
			return b.AmendCore(ctx, noon, "kettle", "front", front.Date, core(func(c *layers.Core) { c.Layers = []layers.Layer{} }))
		},
		`tank "kettle", set_up: found 2026-11-02, want 2026-11-01 (its oldest core) or earlier`: func() error {
			return b.EditTank(ctx, noon, layers.Tank{ID: "kettle", SetUp: day(t, "2026-11-02")})
		},
		`tank "kettle", water[0].ph: found 14, want a number from 4 to 11`: func() error {
			return b.AddWater(ctx, noon, "kettle", layers.WaterTest{Date: front.Date, PH: &ph})
		},
		`found water test 2026-11-01 07:30 of tank "kettle" in the logbook already, want another one`: func() error {
			return b.AddWater(ctx, noon, "kettle", layers.WaterTest{Date: front.Date, Time: "07:30"})
		},
		`found no water test 2026-11-01 of tank "kettle", want one that the logbook holds: did you mean water test 2026-11-01 07:30?`: func() error {
			return b.RemoveWater(ctx, noon, "kettle", front.Date, "")
		},
		`found event siphon 2026-09-02 of tank "kettle" in the logbook already, want another one`: func() error {
			return b.AddEvent(ctx, noon, "kettle", kettle(t).Events[0])
		},
		`found no prototype mulm1 of every tank, want one that the logbook holds`: func() error {
			return b.RemovePrototype(ctx, noon, "", "mulm1")
		},
		`prototype rust of every tank, name: found the band's name rust, want a name of its own`: func() error {
			return b.AddPrototype(ctx, noon, Prototype{Name: "rust", Band: palette.Rust, Spread: 5})
		},
		`prototype 1a of every tank, name: found "1a", want a word of 1 to 80 letters, digits, '-' and '_' that starts with a letter
prototype 1a of every tank, band: found "unknown", want a band that the colour means
prototype 1a of every tank, spread: found 0, want a number from 0.5 to 20`: func() error {
			return b.AddPrototype(ctx, noon, Prototype{Name: "1a", Band: palette.Unknown})
		},
		`tank "kettle", core front 2026-11-01: found another value in the logbook (lit, note), want an equal one, or to replace it`: func() error {
			tank := kettle(t)
			tank.Cores[0] = core(func(c *layers.Core) { c.Lit, c.Note = nil, "new" })
			_, err := b.Import(ctx, noon, []layers.Tank{{ID: "bowl"}, tank}, false)
			return err
		},
		`tank "bowl", water test 2026-11-01: found another value for it in the import itself, want one`: func() error {
			ph := 7.0
			twins := []layers.WaterTest{{Date: front.Date}, {Date: front.Date}, {Date: front.Date, PH: &ph}}
			_, err := b.Import(ctx, noon, []layers.Tank{{ID: "bowl", Water: twins}}, true)
			return err
		},
		`tanks[1], id: found "bowl", the id of tanks[0], want an id of its own`: func() error {
			_, err := b.Import(ctx, noon, []layers.Tank{{ID: "bowl"}, {ID: "bowl"}}, true)
			return err
		},
	} {
		if err := do(); err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
	if got := export(t, b); got != before {
		t.Errorf("a refusal changed the logbook to\n%s", got)
	}
	if _, last, err := b.LastChange(ctx); err != nil || last.What != `tank "kettle" added` {
		t.Errorf("a refusal left %v, %v", last, err)
	}
}

// TestBook_stations: a tank gets no more stations than a document can give it, core by core or by import.
func TestBook_stations(t *testing.T) {
	b, ctx := newBook(t), t.Context()
	core := func(station int) layers.Core {
		c := kettle(t).Cores[0]
		c.Station = fmt.Sprint("s", station)
		return c
	}
	tank := layers.Tank{ID: "hall"}
	for i := range layers.MaxStations {
		tank.Cores = append(tank.Cores, core(i))
	}
	if err := b.AddTank(ctx, noon, tank); err != nil {
		t.Fatal(err)
	}
	one := core(layers.MaxStations)
	want := `tank "hall", cores: found 1001 stations, want at most 1000 stations a tank`
	for how, do := range map[string]func() error{
		"added": func() error { return b.AddCore(ctx, noon, "hall", one) },
		"imported": func() error {
			_, err := b.Import(ctx, noon, []layers.Tank{{ID: "hall", Cores: []layers.Core{one}}}, false)
			return err
		},
	} {
		if err := do(); err == nil || err.Error() != want {
			t.Errorf("one more station %s: got %v, want %s", how, err, want)
		}
	}
	if err := b.AmendCore(ctx, noon, "hall", "s0", one.Date, one); err != nil { // one goes, one comes
		t.Error(err)
	}
	again := core(1)
	again.Date--
	if err := b.AddCore(ctx, noon, "hall", again); err != nil {
		t.Errorf("a station that is there: %v", err)
	}
}

// Only the first conflicts are told, and how many there are besides.
func TestImport_manyConflicts(t *testing.T) {
	b := newBook(t)
	tanks := fishRoom(1)
	if _, err := b.Import(t.Context(), noon, tanks, false); err != nil {
		t.Fatal(err)
	}
	refused := func(conflicts int) []string {
		changed := []layers.Tank{tanks[0]}
		changed[0].Cores = slices.Clone(tanks[0].Cores)
		for i := range conflicts {
			changed[0].Cores[i].Note = "another"
		}
		_, err := b.Import(t.Context(), noon, changed, false)
		return strings.Split(fmt.Sprint(err), "\n")
	}
	if lines := refused(layers.MaxFaults); len(lines) != layers.MaxFaults || strings.Contains(lines[layers.MaxFaults-1], "further") {
		t.Errorf("as many as are told: got %d lines, the last %q", len(lines), lines[len(lines)-1])
	}
	for conflicts, last := range map[int]string{layers.MaxFaults + 1: "further conflicts: 1", 100: "further conflicts: 80"} {
		if lines := refused(conflicts); len(lines) != layers.MaxFaults+1 || lines[layers.MaxFaults] != last {
			t.Errorf("%d conflicts: got %d lines, the last %q", conflicts, len(lines), lines[len(lines)-1])
		}
	}
}

// An import is called by its tank, or by how many there are.
func TestImport_called(t *testing.T) {
	b := newBook(t)
	for want, tanks := range map[string][]layers.Tank{
		`import of tank "bowl"`: {{ID: "bowl"}},
		"import of 3 tanks":     {{ID: "bowl"}, {ID: "kettle"}, {ID: "tub"}},
	} {
		if _, err := b.Import(t.Context(), noon, tanks, false); err != nil {
			t.Fatal(err)
		}
		if _, last, err := b.LastChange(t.Context()); err != nil || last.What != want {
			t.Errorf("got %q, %v, want %q", last.What, err, want)
		}
		if _, err := b.Undo(t.Context(), noon, 0); err != nil {
			t.Fatal(err)
		}
	}
}

// A change of a logbook that lacks a table it needs fails: it is never told to have been made.
func TestChange_lacking(t *testing.T) {
	filled, ctx := bookFile(t), t.Context()
	first := kettle(t).Cores[0]
	left := first
	left.Station = "left"
	all := kettle(t)
	all.ID = "bowl"
	for name, change := range map[string]struct {
		make func(*Book) error
		of   string // tables
	}{
		"import": {func(b *Book) error { _, err := b.Import(ctx, noon, []layers.Tank{all}, false); return err },
			"setups cores photos water_tests events"},
		"add tank": {func(b *Book) error { return b.AddTank(ctx, noon, all) },
			"setups cores photos water_tests events"},
		"edit tank":    {func(b *Book) error { return b.EditTank(ctx, noon, layers.Tank{ID: "kettle"}) }, "setups cores"},
		"retire tank":  {func(b *Book) error { return b.SetRetired(ctx, noon, "kettle", true) }, "setups"},
		"add core":     {func(b *Book) error { return b.AddCore(ctx, noon, "kettle", left) }, "setups cores"},
		"remove core":  {func(b *Book) error { return b.RemoveCore(ctx, noon, "kettle", "front", first.Date) }, "setups cores"},
		"amend core":   {func(b *Book) error { return b.AmendCore(ctx, noon, "kettle", "front", first.Date, left) }, "setups cores"},
		"add water":    {func(b *Book) error { return b.AddWater(ctx, noon, "kettle", layers.WaterTest{Date: first.Date}) }, "setups water_tests"},
		"remove water": {func(b *Book) error { return b.RemoveWater(ctx, noon, "kettle", first.Date, "07:30") }, "setups water_tests"},
		"add event": {func(b *Book) error {
			return b.AddEvent(ctx, noon, "kettle", layers.Event{Date: first.Date, Kind: all.Events[0].Kind})
		}, "setups events"},
		"remove event": {func(b *Book) error { return b.RemoveEvent(ctx, noon, "kettle", all.Events[0]) }, "setups events"},
		"undo":         {func(b *Book) error { _, err := b.Undo(ctx, noon, 0); return err }, "setups cores water_tests events"},
	} {
		for _, table := range strings.Fields(change.of) {
			path := filepath.Join(t.TempDir(), "short.db")
			if err := os.WriteFile(path, readFile(t, filled), 0o600); err != nil {
				t.Fatal(err)
			}
			hinder(t, path, "PRAGMA foreign_keys = 0; DROP TABLE "+table)
			b, err := Open(ctx, path, false)
			if err != nil {
				continue // told at the door
			}
			if err := change.make(b); err == nil {
				t.Errorf("%s without %s: told to have been made", name, table)
			}
			b.Close()
		}
	}
}

func TestCores_former(t *testing.T) {
	b := withKettle(t)
	ctx := t.Context()
	first := kettle(t).Cores[0]
	second := first
	second.Note = "looked again"
	if err := b.AmendCore(ctx, noon.Add(time.Hour), "kettle", "front", first.Date, second); err != nil {
		t.Fatal(err)
	}
	if err := b.RemoveCore(ctx, noon.Add(2*time.Hour), "kettle", "front", first.Date); err != nil {
		t.Fatal(err)
	}
	third := first
	third.Station = "left"
	if err := b.AddCore(ctx, noon.Add(3*time.Hour), "kettle", third); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Undo(ctx, noon.Add(4*time.Hour), 0); err != nil {
		t.Fatal(err)
	}
	added := Change{noon, `tank "kettle" added`}
	amended := Change{noon.Add(time.Hour), `core front 2026-11-01 of tank "kettle" amended`}
	removed := Change{noon.Add(2 * time.Hour), `core front 2026-11-01 of tank "kettle" removed`}
	want := []CoreEntry{
		{first, added, amended},
		{second, amended, removed},
		{third, Change{noon.Add(3 * time.Hour), `core left 2026-11-01 of tank "kettle" added`}, Change{noon.Add(4 * time.Hour), "taken back"}},
	}
	if got, err := b.Cores(ctx, "kettle", true); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %v, want %+v", got, err, want)
	}
	if got, err := b.Cores(ctx, "kettle", false); err != nil || len(got) != 0 {
		t.Errorf("got %+v, %v, want none to stand", got, err)
	}
}

func TestAmendCore_equal(t *testing.T) {
	b := withKettle(t)
	core := kettle(t).Cores[0]
	if err := b.AmendCore(t.Context(), noon, "kettle", "front", core.Date, core); err != nil {
		t.Error(err)
	}
	if got, err := b.Cores(t.Context(), "kettle", true); err != nil || len(got) != 1 {
		t.Errorf("got %v, %v, want nothing to have changed", got, err)
	}
}

// A tank's own prototype goes before one for every tank.
func TestPrototypes_ownFirst(t *testing.T) {
	b := withKettle(t)
	everywhere := Prototype{"", "mulm1", palette.MulmLight, palette.Color{R: 1}, 5}
	own := Prototype{"kettle", "mulm1", palette.MulmDark, palette.Color{R: 2}, 4}
	other := Prototype{"", "erde", palette.Native, palette.Color{R: 3}, 3}
	for _, p := range []Prototype{everywhere, own, other} {
		if err := b.AddPrototype(t.Context(), noon, p); err != nil {
			t.Fatal(err)
		}
	}
	if err := b.AddTank(t.Context(), noon, layers.Tank{ID: "bowl"}); err != nil {
		t.Fatal(err)
	}
	for tank, want := range map[string][]Prototype{
		"kettle": {other, own},
		"bowl":   {other, everywhere},
		"":       {other, everywhere, own},
	} {
		if got, err := b.Prototypes(t.Context(), tank); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%q: got %v, %v, want %v", tank, got, err, want)
		}
	}
	if _, err := b.Prototypes(t.Context(), "nowhere"); kindOf(err) != notFound {
		t.Errorf("got %v, want no such tank", err)
	}
}

// Whoever reads the file with SQLite alone finds a row a layer.
func TestSchema_layersView(t *testing.T) {
	b := withKettle(t)
	var rows []string
	err := b.view(t.Context(), func(r *reader) (err error) {
		rows, err = list(r, text, `SELECT concat_ws(' ', tank, date, station, position, thickness_mm, hex, band) FROM layers ORDER BY position`)
		return err
	})
	want := []string{"kettle 2026-11-01 front 1 12 #8b5e3c ", "kettle 2026-11-01 front 2 4 #b4552a rust"}
	if err != nil || !reflect.DeepEqual(rows, want) {
		t.Errorf("got %q, %v, want %q", rows, err, want)
	}
}

// Tanks reads what stood as it began, and can be left at any tank.
func TestTanks_oneMoment(t *testing.T) {
	b := newBook(t)
	ctx := t.Context()
	if _, err := b.Import(ctx, noon, fishRoom(3), false); err != nil {
		t.Fatal(err)
	}
	var ids []string
	for tank, err := range b.Tanks(ctx, false) {
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, tank.ID)
		if err := b.SetRetired(ctx, noon, fmt.Sprintf("tank-%04d", len(ids)%3), true); err != nil {
			t.Fatal(err)
		}
	}
	if len(ids) != 3 {
		t.Errorf("got %q", ids)
	}
	for tank := range b.Tanks(ctx, true) {
		if tank.ID != "tank-0000" {
			t.Errorf("got %q after leaving", tank.ID)
		}
		break
	}
	for tank, err := range b.Tanks(ctx, false) {
		t.Errorf("got %v, %v, want no tank that is kept", tank, err)
	}
}

func TestBook_cancelled(t *testing.T) {
	b := withKettle(t)
	before := export(t, b)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := b.Import(ctx, noon, fishRoom(1), false); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	for _, err := range b.Tanks(ctx, true) {
		if !errors.Is(err, context.Canceled) {
			t.Errorf("got %v", err)
		}
	}
	if got := export(t, b); got != before {
		t.Errorf("got\n%s", got)
	}
}

// Undo finds its changes after the program has ended.
func TestUndo_afterRestart(t *testing.T) {
	path := bookFile(t)
	b := open(t, path, false)
	if err := b.SetRetired(t.Context(), noon, "kettle", true); err != nil {
		t.Fatal(err)
	}
	b.Close()
	for _, want := range []Change{{noon, `tank "kettle" retired`}, {noon, `tank "kettle" added`}} {
		b = open(t, path, false)
		id, got, err := b.LastChange(t.Context())
		if err != nil || got != want {
			t.Errorf("got %v, %v, want %v", got, err, want)
		}
		if got, err := b.Undo(t.Context(), noon, id); err != nil || got != want {
			t.Errorf("got %v, %v, want %v", got, err, want)
		}
		b.Close()
	}
	b = open(t, path, false)
	defer b.Close()
	if _, err := b.Undo(t.Context(), noon, 0); !errors.Is(err, ErrNothingToUndo) {
		t.Errorf("got %v", err)
	}
	if _, err := b.Tank(t.Context(), "kettle"); kindOf(err) != notFound {
		t.Errorf("got %v, want no tank left", err)
	}
}

// Undo of a change that is named takes back no other: neither a later one nor, asked twice,
// the one before.
func TestUndo_ofItsOwn(t *testing.T) {
	b := open(t, bookFile(t), false)
	defer b.Close()
	ctx := t.Context()
	added, _, err := b.LastChange(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.SetRetired(ctx, noon, "kettle", true); err != nil {
		t.Fatal(err)
	}
	retired, _, err := b.LastChange(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Undo(ctx, noon, added); !errors.Is(err, ErrNotLast) {
		t.Errorf("under a later change: %v", err)
	}
	if undone, err := b.Undo(ctx, noon, retired); err != nil || undone.What != `tank "kettle" retired` {
		t.Errorf("took back %v, %v", undone, err)
	}
	if undone, err := b.Undo(ctx, noon, retired); !errors.Is(err, ErrNotLast) {
		t.Errorf("twice: took back %v, %v", undone, err)
	}
	if last, _, err := b.LastChange(ctx); err != nil || last != added {
		t.Errorf("the last change is %d, %v, want %d", last, err, added)
	}
}
