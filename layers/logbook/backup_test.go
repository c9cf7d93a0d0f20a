package logbook

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"panecore/layers"
)

func TestBackup(t *testing.T) {
	b := newBook(t)
	ctx := context.Background()
	if err := b.AddTank(ctx, noon, kettle(t)); err != nil {
		t.Fatal(err)
	}
	if err := b.RemoveCore(ctx, noon, "kettle", "front", kettle(t).Cores[0].Date); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "backup.db")
	if _, err := b.Backup(ctx, path); err != nil {
		t.Fatal(err)
	}
	if got := folderOf(t, path); len(got) != 1 {
		t.Errorf("found %q, want nothing but the backup", got)
	}
	copied := open(t, path, false)
	defer copied.Close()
	if got, want := export(t, copied), export(t, b); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if _, err := copied.Undo(ctx, noon, 0); err != nil {
		t.Error(err)
	}
	if tank, err := copied.Tank(ctx, "kettle"); err != nil || len(tank.Cores) != 1 {
		t.Errorf("got %v, %v, want the core back", tank, err)
	}
}

func TestBackup_neverOverwrites(t *testing.T) {
	b := newBook(t)
	path := textFile(t, "something dear")
	_, err := b.Backup(context.Background(), path)
	if !isTrouble(err, Exists) {
		t.Errorf("got %v, want it to be there already", err)
	}
	if err := publish(textFile(t, "a backup"), path); err == nil {
		t.Error("a file that came in between was overwritten")
	}
	if got := string(readFile(t, path)); got != "something dear" || len(folderOf(t, path)) != 1 {
		t.Errorf("found %q in %q", got, folderOf(t, path))
	}
}

func TestBackup_noFolder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "nowhere", "backup.db")
	_, err := newBook(t).Backup(context.Background(), path)
	if !isTrouble(err, Missing) || !strings.HasPrefix(err.Error(), path+": found no such folder") {
		t.Errorf("got %v, want no folder", err)
	}
}

// A folder that can't be brought to disk is told, where the system can do so at all.
func TestSyncFolder(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("it can't")
	}
	if err := syncFolder(t.TempDir()); err != nil {
		t.Error(err)
	}
	if err := syncFolder(filepath.Join(t.TempDir(), "nowhere")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("of a folder that is not there: %v", err)
	}
}

// A copy that lacks a row, or is damaged, is no backup.
func TestBackup_checked(t *testing.T) {
	ctx := context.Background()
	for name, spoil := range map[string]func(path string){
		"a row short": func(path string) { hinder(t, path, "DELETE FROM cores") },
		"damaged":     func(path string) { hinder(t, path, "PRAGMA ignore_check_constraints = 1; UPDATE cores SET lit = 7") },
		"orphaned":    func(path string) { hinder(t, path, "PRAGMA foreign_keys = 0; DELETE FROM tanks") },
	} {
		b := newBook(t)
		if err := b.AddTank(ctx, noon, kettle(t)); err != nil {
			t.Fatal(err)
		}
		var before map[string]int
		if err := b.view(ctx, func(r *reader) (err error) {
			before, err = r.counts()
			return err
		}); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "copy.db")
		if _, err := b.Backup(ctx, path); err != nil {
			t.Fatal(err)
		}
		if err := verify(ctx, path, before); err != nil {
			t.Errorf("%s: got %v before", name, err)
		}
		spoil(path)
		err := verify(ctx, path, before)
		if !isTrouble(err, Damaged) {
			t.Errorf("%s: got %v, want a faulty copy", name, err)
		}
	}
}

// A backup made beside a reader and a writer has all that was acknowledged before.
func TestBackup_beside(t *testing.T) {
	b := newBook(t)
	ctx := context.Background()
	if _, err := b.Import(ctx, noon, fishRoom(3), false); err != nil {
		t.Fatal(err)
	}
	for tank, err := range b.Tanks(ctx, false) {
		if err != nil {
			t.Fatal(err)
		}
		if err := b.AddCore(ctx, noon, tank.ID, layers.Core{Date: layers.DateOf(noon), Station: "front", Layers: coreOf(1, "").Layers}); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), tank.ID)
		if _, err := b.Backup(ctx, path); err != nil {
			t.Fatal(err)
		}
		backup := open(t, path, false)
		if got, err := backup.Tank(ctx, tank.ID); err != nil || len(got.Cores) != len(tank.Cores)+1 {
			t.Errorf("found %d cores, %v", len(got.Cores), err)
		}
		backup.Close()
	}
}
