package logbook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
)

// sqliteFile writes a database by a script and returns its path.
func sqliteFile(t *testing.T, script string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "file.db")
	if err := execute(path, script); err != nil {
		t.Fatal(err)
	}
	return path
}

// execute runs a script on a database that nobody else has open.
func execute(path, script string) error {
	db, err := sql.Open("sqlite", uri(path))
	if err != nil {
		return err
	}
	_, err = db.Exec(script)
	return errors.Join(err, db.Close())
}

func textFile(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "file.db")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// bookFile is a logbook with the contract's tank, closed.
func bookFile(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "file.db")
	b := open(t, path, true)
	if err := b.AddTank(context.Background(), noon, kettle(t)); err != nil {
		t.Fatal(err)
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// overwritten is a logbook with bytes changed from an offset on.
func overwritten(t *testing.T, at int, with string) string {
	t.Helper()
	path := bookFile(t)
	content := readFile(t, path)
	copy(content[at:], with)
	if err := os.WriteFile(path, content, 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestOpen_refused(t *testing.T) {
	const pageSize = 4096
	for name, c := range map[string]struct {
		path    string
		trouble Trouble
		want    string
	}{
		"text":  {textFile(t, strings.Repeat("a core, not a logbook\n", 10)), Foreign, "found a file that is no logbook, want a logbook"},
		"short": {textFile(t, "SQLite format 3\x00"), Foreign, "found a file that is no logbook, want a logbook"},
		"foreign": {sqliteFile(t, "CREATE TABLE cores (id); PRAGMA journal_mode = WAL"), Foreign,
			"found another program's database, want a logbook"},
		"folder": {t.TempDir(), Foreign, "found a folder, want a logbook"},
		"newer": {overwritten(t, versionAt, "\x00\x00\x00\x63"), Newer,
			fmt.Sprintf("found a logbook of version 99, want version %d or earlier, or the later program that wrote it", len(steps()))},
		"damaged": {overwritten(t, headerLength, strings.Repeat("damage", 100)), Damaged,
			"found a damaged logbook (database disk image is malformed (11)), want a whole one: keep this file, and go on with the newest backup"},
		"cut off": {textFile(t, string(readFile(t, bookFile(t))[:pageSize])), Damaged,
			"found a damaged logbook (database disk image is malformed (11)), want a whole one: keep this file, and go on with the newest backup"},
	} {
		t.Run(name, func(t *testing.T) {
			checkRefused(t, c.path, c.trouble, c.want)
		})
	}
}

// checkRefused opens a file in vain and sees to it that no trace is left.
func checkRefused(t *testing.T, path string, trouble Trouble, want string) {
	t.Helper()
	before, content := folderOf(t, path), fileOrNothing(path)
	_, err := Open(context.Background(), path, true)
	refused, ok := errors.AsType[*FileError](err)
	if !ok || refused.Trouble != trouble || err.Error() != path+": "+want {
		t.Errorf("got %v, want %s", err, want)
	}
	if after := folderOf(t, path); !slices.Equal(after, before) || fileOrNothing(path) != content {
		t.Errorf("the file was changed, or what lies beside it: %q", after)
	}
}

func folderOf(t *testing.T, path string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		names = append(names, entry.Name())
	}
	return names
}

func fileOrNothing(path string) string {
	content, _ := os.ReadFile(path)
	return string(content)
}

func TestOpen_missing(t *testing.T) {
	for name, path := range map[string]string{
		"no file":   filepath.Join(t.TempDir(), "folder", "logbook.db"),
		"no bytes":  textFile(t, ""),
		"no tables": sqliteFile(t, "PRAGMA application_id = 1885433445"),
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Open(context.Background(), path, false)
			if !isTrouble(err, Missing) {
				t.Errorf("got %v, want it to be missing", err)
			}
			b := open(t, path, true)
			defer b.Close()
			if err := b.AddTank(context.Background(), noon, layers.Tank{ID: "kettle"}); err != nil {
				t.Error(err)
			}
			checkClean(t, b)
		})
	}
}

// Letters that mean something to SQLite, or to a shell, are but letters in a path.
func TestOpen_anyPath(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"a b.db", "50%.db", "is it?mode=memory.db", "#1.db", "a%20b.db", "Jörgs 鱼.db", "file:x.db", "'quoted\".db"} {
		path := filepath.Join(folder, name)
		b := open(t, path, true)
		if err := b.AddTank(context.Background(), noon, layers.Tank{ID: "kettle"}); err != nil {
			t.Error(err)
		}
		if _, err := b.Backup(context.Background(), path+".backup"); err != nil {
			t.Error(err)
		}
		if err := b.Close(); err != nil {
			t.Error(err)
		}
		if got := folderOf(t, path); !slices.Contains(got, name) || !slices.Contains(got, name+".backup") {
			t.Errorf("%q: found %q", name, got)
		}
	}
}

// A logbook damaged where it is not looked at on opening says so when it is read.
func TestBook_damagedWithin(t *testing.T) {
	path := bookFile(t)
	b := open(t, path, false)
	var roots []int
	if err := b.view(t.Context(), func(r *reader) (err error) {
		scan := func(row *sql.Rows) (page int, err error) {
			err = row.Scan(&page)
			return page, err
		}
		roots, err = list(r, scan, "SELECT rootpage FROM sqlite_schema WHERE rootpage > 0")
		return err
	}); err != nil {
		t.Fatal(err)
	}
	b.Close()
	content := readFile(t, path)
	const pageSize = 4096
	for _, page := range roots { // the pages count from 1
		copy(content[(page-1)*pageSize:], strings.Repeat("damage", 20))
	}
	if err := os.WriteFile(path, content, 0o666); err != nil {
		t.Fatal(err)
	}
	b = open(t, path, false)
	defer b.Close()
	_, err := b.Tank(context.Background(), "kettle")
	if !isTrouble(err, Damaged) {
		t.Errorf("got %v, want it to be damaged", err)
	}
	found, err := b.Check(context.Background())
	if err != nil || len(found.Problems) == 0 {
		t.Errorf("got %v, %v, want problems", found, err)
	}
	_, err = b.Backup(context.Background(), path+".backup")
	if !isTrouble(err, Damaged) {
		t.Errorf("got %v, want no backup of a damaged logbook", err)
	}
}
