package logbook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// Backup writes the logbook as it stands to a new file, which is checked before it
// gets its name, and on disk when Backup returns. It never overwrites.
func (b *Book) Backup(ctx context.Context, path string) error {
	if _, err := os.Lstat(path); err == nil {
		return exists(path)
	}
	temp, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if errors.Is(err, fs.ErrNotExist) {
		return &FileError{path, Missing, "no such folder", "a folder that is there", err}
	}
	if err != nil {
		return explain(path, err)
	}
	defer os.Remove(temp.Name())
	defer temp.Close()
	if err := b.copyTo(ctx, temp.Name()); err != nil {
		if trouble, ok := errors.AsType[*FileError](err); ok && trouble.Path == temp.Name() {
			trouble.Path = path // the name it was to get
		}
		return err
	}
	if err := temp.Sync(); err != nil {
		return explain(path, err)
	}
	if err := publish(temp.Name(), path); err != nil {
		return err
	}
	return explain(path, syncFolder(filepath.Dir(path)))
}

func exists(path string) error {
	return &FileError{path, Exists, "a file of that name", "a new name: nothing is overwritten", nil}
}

// copyTo fills an empty file and checks the copy against what stood before it was
// begun: rows are never deleted, so the copy has as many or more.
func (b *Book) copyTo(ctx context.Context, path string) error {
	var before map[string]int
	err := b.view(ctx, func(r *reader) (err error) {
		before, err = r.counts()
		return err
	})
	if err != nil {
		return err
	}
	if _, err := b.db.ExecContext(ctx, "VACUUM INTO ?", uri(path)); err != nil {
		if isTrouble(b.explain(err), Full) { // it is the copy that is written
			return explain(path, err)
		}
		return b.explain(err)
	}
	return verify(ctx, path, before)
}

// verify looks through a copy, and holds it to the counts of the original.
func verify(ctx context.Context, path string, before map[string]int) error {
	db, err := sql.Open("sqlite", source(path)) // SQLite checks less of a file opened to read only
	if err != nil {
		return err
	}
	defer db.Close()
	return (&Book{db, path}).view(ctx, func(r *reader) error { return r.verify(path, before) })
}

func (r *reader) verify(path string, before map[string]int) error {
	problems, err := r.damage()
	if err != nil {
		return err
	}
	counts, err := r.counts()
	if err != nil {
		return err
	}
	for name, least := range before {
		if counts[name] < least {
			problems = append(problems, Problem{Found: fmt.Sprintf("%d of %d %s", counts[name], least, name)})
		}
	}
	if problems != nil {
		return &FileError{path, Damaged, "a faulty copy: " + problems[0].Found, "a whole one: try again, on another disk", nil}
	}
	return nil
}

// counts is how many rows each table has.
func (r *reader) counts() (map[string]int, error) {
	names, err := list(r, text, "SELECT name FROM sqlite_schema WHERE type = 'table'")
	if err != nil {
		return nil, err
	}
	counts := map[string]int{}
	for _, name := range names {
		var count int
		if err := r.tx.QueryRowContext(r.ctx, "SELECT count(*) FROM "+name).Scan(&count); err != nil {
			return nil, err
		}
		counts[name] = count
	}
	return counts, nil
}

// publish gives a finished file its name, which none may bear.
func publish(temp, path string) error {
	err := os.Link(temp, path)
	if errors.Is(err, fs.ErrExist) {
		return exists(path)
	}
	if err != nil { // a memory stick's file system knows no links
		err = os.Rename(temp, path)
	}
	return explain(path, err)
}

// syncFolder has the names in a folder on disk.
func syncFolder(path string) error {
	if runtime.GOOS == "windows" { // it can't, and need not
		return nil
	}
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	defer folder.Close()
	return folder.Sync()
}
