package serve

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"panecore/cmd/internal/demo"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports/web/site"
)

// newPageStore is the store of a logbook that holds the demo's records and its photo.
func newTestStore(t *testing.T) (pageStore, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "log.db")
	book, err := logbook.Open(t.Context(), path, true)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { book.Close() })
	noon := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	if err := demo.Fill(t.Context(), book, noon); err != nil {
		t.Fatal(err)
	}
	return newPageStore(&shell.Shell{Env: shell.Env{Stderr: io.Discard, Now: func() time.Time { return noon }}}, book, "", func() layers.Date { return 0 }), path
}

func TestPageStore_tellsFaultsApart(t *testing.T) {
	store, _ := newTestStore(t)
	ctx := t.Context()
	tank, err := store.Tank(ctx, "sack-hoist")
	if err != nil {
		t.Fatal(err)
	}
	core := tank.Cores[0]
	late, byEye := core, core
	late.Date, byEye.Photo = farDay, nil
	byEye.Layers = []layers.Layer{{ThicknessMM: 12, Color: demoNative.Color}}
	shot := openDemoPhoto(t)
	other := taskOf(demoMarks(t))
	other.Core = layers.Core{Station: "front", Date: core.Date}
	readOn(t, shot, other)
	kept, err := shot.Kept()
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		err  error
		kind error
		want string
	}{
		"no such tank":           {second(store.Tank(ctx, "sack-hoits")), site.ErrMissing, `found no tank "sack-hoits", want one that the logbook holds: did you mean sack-hoist?`},
		"no such core":           {store.RemoveCore(ctx, tank.ID, "front", core.Date-1), site.ErrMissing, "found no core front "},
		"no such photo":          {pageFault(second(store.book.OpenPhoto(ctx, "0f0f"))), site.ErrMissing, `found no photo "0f0f"`},
		"no logbook any more":    {pageFault(&logbook.FileError{Path: "log.db", Trouble: logbook.Missing, Found: "this", Want: "that"}), site.ErrMissing, "log.db: found this, want that"},
		"a full disk":            {pageFault(&logbook.FileError{Path: "log.db", Trouble: logbook.Full, Found: "this", Want: "that"}), nil, "log.db: found this, want that"},
		"a report of no tank":    {second(store.Report(ctx, "none")), site.ErrMissing, `found no tank "none"`},
		"a tank twice":           {store.AddTank(ctx, tank), site.ErrTaken, `found tank "sack-hoist" in the logbook already`},
		"a core twice":           {store.AddCore(ctx, tank.ID, core), site.ErrTaken, "found core front "},
		"a core to come":         {store.AddCore(ctx, tank.ID, late), site.ErrInput, "tank \"sack-hoist\""},
		"a tank without an id":   {store.AddTank(ctx, layers.Tank{}), site.ErrInput, ""},
		"the photo of another":   {store.FileCore(ctx, tank.ID, byEye, kept, false), site.ErrInput, "core front "},
		"a core by another hand": {fileOver(ctx, store, tank.ID, byEye, shot, kept), site.ErrTaken, "tank \"sack-hoist\""},
	} {
		if c.kind == nil && (errors.Is(c.err, site.ErrMissing) || errors.Is(c.err, site.ErrTaken) || errors.Is(c.err, site.ErrInput)) ||
			c.kind != nil && !errors.Is(c.err, c.kind) || !strings.HasPrefix(c.err.Error(), c.want) {
			t.Errorf("%s: %v, want %v in the words %q", name, c.err, c.kind, c.want)
		}
	}
}

// fileOver files a photo's core where another stands that was read by eye.
func fileOver(ctx context.Context, store pageStore, tank string, byEye layers.Core, shot *pageShot, kept site.KeptPhoto) error {
	if err := store.AmendCore(ctx, tank, byEye.Station, byEye.Date, byEye); err != nil {
		return err
	}
	return store.FileCore(ctx, tank, shot.last.Core, kept, false)
}

func second[T any](_ T, err error) error { return err }

// What the page's own undo takes back is what it said it would, until nothing is left.
func TestPageStore_undoesWhatItTells(t *testing.T) {
	store, _ := newTestStore(t)
	ctx := t.Context()
	var told []string
	for {
		change, last, err := store.Last(ctx)
		if err != nil {
			t.Fatal(err)
		}
		if last == "" {
			break
		}
		if _, err := store.Undo(ctx, change+1); !errors.Is(err, site.ErrTaken) {
			t.Fatalf("undo of another change: %v", err)
		}
		undone, err := store.Undo(ctx, change)
		if err != nil || undone != last {
			t.Fatalf("taken back %q, %v, told %q", undone, err, last)
		}
		told = append(told, undone)
	}
	want := `core front 2026-11-01 of tank "sack-hoist" added (on 2026-11-25 12:00)`
	if len(told) < 2 || told[0] != want {
		t.Errorf("taken back: %q, want first %q", told, want)
	}
	if _, err := store.Undo(ctx, 1); !errors.Is(err, site.ErrMissing) {
		t.Errorf("undo of nothing: %v", err)
	}
}

// A photo that was read on the page is kept as the photo command keeps it.
func TestPageStore_keepsPhotos(t *testing.T) {
	store, path := newTestStore(t)
	ctx := t.Context()
	tank, err := store.Tank(ctx, "sack-hoist")
	if err != nil {
		t.Fatal(err)
	}
	shot, task := openDemoPhoto(t), taskOf(demoMarks(t))
	task.Tank, task.Core = tank, layers.Core{Station: "left", Date: tank.Cores[0].Date}
	core := readOn(t, shot, task).Core
	kept, err := shot.Kept()
	if err != nil {
		t.Fatal(err)
	}
	if err := store.FileCore(ctx, tank.ID, core, kept, false); err != nil {
		t.Fatal(err)
	}
	for _, station := range []string{"front", "left"} { // filed by the command's way, and by the page's
		picks, found, err := store.PicksOf(ctx, tank.ID, station, core.Date)
		if err != nil || !found || !bytes.Equal(picks, kept.Picks) {
			t.Errorf("%s: picks %s, %v, %v, want %s", station, picks, found, err, kept.Picks)
		}
	}
	if last, found, err := store.LastPhoto(ctx, tank.ID, "left"); err != nil || !found || !bytes.Equal(last.Picks, kept.Picks) || !bytes.Equal(last.Content, kept.Content) {
		t.Errorf("the last photo: %d bytes, picks %s, %v, %v", len(last.Content), last.Picks, found, err)
	}
	file, err := store.book.OpenPhoto(ctx, core.Photo.SHA256)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if content, err := io.ReadAll(file); err != nil || !bytes.Equal(content, demoFile(t, "photo.jpg")) {
		t.Errorf("another file was kept: %d bytes, %v", len(content), err)
	}
	if found, err := store.book.Check(ctx); err != nil || len(found.Problems)+len(found.Remarks) > 0 {
		t.Errorf("check of %s: %v, %v", path, found, err)
	}
}

// A copy says which photos are not in it.
func TestPageStore_backupWithoutPhotos(t *testing.T) {
	store, path := newTestStore(t)
	if err := os.RemoveAll(logbook.PhotoFolder(path)); err != nil {
		t.Fatal(err)
	}
	var copied bytes.Buffer
	if err := store.Backup(t.Context(), &copied); err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if names := unpack(t, copied.Bytes(), folder); !slices.Equal(names, []string{"logbook.db", "photos-missing.txt"}) {
		t.Fatalf("found %q", names)
	}
	if told, err := os.ReadFile(filepath.Join(folder, "photos-missing.txt")); err != nil || !strings.Contains(string(told), "not in this copy: 1. 'panecore check'") {
		t.Errorf("told %q, %v", told, err)
	}
}

// A copy is a logbook with its photos, and the same bytes each time.
func TestPageStore_backup(t *testing.T) {
	store, _ := newTestStore(t)
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp)
	var first, again bytes.Buffer
	for _, b := range []*bytes.Buffer{&first, &again} {
		if err := store.Backup(t.Context(), b); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), again.Bytes()) {
		t.Error("the second copy has other bytes")
	}
	if left, _ := filepath.Glob(filepath.Join(temp, "*")); len(left) > 0 {
		t.Errorf("left %q", left)
	}
	folder := t.TempDir()
	names := unpack(t, first.Bytes(), folder)
	if len(names) != 2 || names[0] != "logbook.db" || filepath.Dir(names[1]) != "logbook.db.photos" {
		t.Errorf("found %q", names)
	}
	copied, err := logbook.Open(t.Context(), filepath.Join(folder, "logbook.db"), false)
	if err != nil {
		t.Fatal(err)
	}
	defer copied.Close()
	if said, err := copied.Check(t.Context()); err != nil || len(said.Problems)+len(said.Remarks) > 0 {
		t.Errorf("check: %v, %v", said, err)
	}
	want, err := store.Tanks(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	got, err := shell.AllTanks(t.Context(), copied, false)
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Errorf("%v: the logbook (-) and its copy (+):\n%s", err, diff)
	}
}

// unpack writes a ZIP's files into a folder and returns their names.
func unpack(t *testing.T, packed []byte, folder string) (names []string) {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range archive.File {
		names = append(names, filepath.ToSlash(file.Name))
	}
	slices.Sort(names)
	if err := os.CopyFS(folder, archive); err != nil {
		t.Fatal(err)
	}
	return names
}

// A copy that nobody waits for any more ends, and leaves nothing behind.
func TestPageStore_backupOfWhoLeft(t *testing.T) {
	store, _ := newTestStore(t)
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp)
	ctx, leave := context.WithCancel(t.Context())
	leave()
	var sent bytes.Buffer
	if err := store.Backup(ctx, &sent); err == nil || sent.Len() > 0 {
		t.Errorf("sent %d bytes, %v", sent.Len(), err)
	}
	if left, _ := filepath.Glob(filepath.Join(temp, "*")); len(left) > 0 {
		t.Errorf("left %q", left)
	}
}
