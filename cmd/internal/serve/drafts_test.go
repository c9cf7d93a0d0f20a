package serve

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

func newDraftFolder(t *testing.T) (draftFolder, *[]string) {
	t.Helper()
	var told []string
	return draftFolder{filepath.Join(t.TempDir(), "log.db.drafts"), func(line string) { told = append(told, line) }}, &told
}

// What is kept is there again in the order of its use, and only its owner reads it.
func TestDraftFolder_keeps(t *testing.T) {
	f, told := newDraftFolder(t)
	if list := f.All(); len(list) != 0 || len(*told) > 0 {
		t.Fatalf("found %d, told %q", len(list), *told)
	}
	for _, id := range []string{"a", "b", "c"} {
		f.KeepPhoto(id, []byte("photo "+id))
	}
	f.KeepState("a", []byte("marks"))
	f.KeepState("a", []byte("more marks"))
	for i, name := range []string{"a.photo", "b.photo", "c.photo", "a.json"} { // as the clock would
		at := time.Unix(int64(i), 0)
		if err := os.Chtimes(filepath.Join(f.path, name), at, at); err != nil {
			t.Fatal(err)
		}
	}
	f.Drop("b")
	f.Drop("b")
	list := f.All()
	if len(list) != 2 || list[0].ID != "c" || string(list[0].Content) != "photo c" || len(list[0].State) > 0 ||
		list[1].ID != "a" || string(list[1].State) != "more marks" {
		t.Errorf("found %v", list)
	}
	entries, err := os.ReadDir(f.path)
	if err != nil || len(entries) != 3 || len(*told) > 0 {
		t.Errorf("%v, %v; told %q", entries, err, *told)
	}
	for _, entry := range entries {
		if info, err := entry.Info(); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
			t.Errorf("%s: %v, %v", entry.Name(), info.Mode(), err)
		}
	}
}

// What a program that was stopped left half done is cleared away, and what can't be read is told.
func TestDraftFolder_clearsAway(t *testing.T) {
	f, told := newDraftFolder(t)
	f.KeepPhoto("a", []byte("photo"))
	for _, name := range []string{".panecore-123", "gone.json", "stray"} {
		if err := os.WriteFile(filepath.Join(f.path, name), []byte("half"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(f.path, "folder.photo"), 0o700); err != nil {
		t.Fatal(err)
	}
	if list := f.All(); len(list) != 1 || list[0].ID != "a" {
		t.Errorf("found %v", list)
	}
	if entries, _ := os.ReadDir(f.path); len(entries) != 2 {
		t.Errorf("left %v", entries)
	}
	if len(*told) != 1 || !strings.Contains((*told)[0], "folder.photo: found something other than a file") {
		t.Errorf("told %q", *told)
	}
}

// A folder that can't be written is told, and no more.
func TestDraftFolder_full(t *testing.T) {
	f, told := newDraftFolder(t)
	if err := os.WriteFile(f.path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	f.KeepPhoto("a", []byte("photo"))
	if len(*told) != 1 || !strings.Contains((*told)[0], "a.photo") {
		t.Errorf("told %q", *told)
	}
}
