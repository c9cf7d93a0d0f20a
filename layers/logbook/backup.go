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
	"strings"
)

// Copied counts what a backup took along besides the logbook's file.
type Copied struct {
	Photos int // their files
	Lost   int // files of photos that are missing or changed, and so not in the backup; see [Book.Check]
}

// Backup writes the logbook as it stands to a new file, and the photos that it ever
// held to a new folder beside that file, so that the two are a logbook of their own.
// Both are checked before they get their names, and on disk when Backup returns. It
// never overwrites.
func (b *Book) Backup(ctx context.Context, path string) (copied Copied, err error) {
	temp, err := b.draft(ctx, path)
	if err != nil {
		return copied, err
	}
	defer os.Remove(temp)
	if copied, err = b.copyPhotos(ctx, temp, albumOf(path)); err != nil {
		return Copied{}, err
	}
	if err := publish(temp, path); err != nil {
		if copied.Photos > 0 {
			os.RemoveAll(string(albumOf(path))) // copyPhotos has made it
		}
		return Copied{}, err
	}
	return copied, explain(path, syncFolder(filepath.Dir(path)))
}

// backUpFile is Backup without the photos.
func (b *Book) backUpFile(ctx context.Context, path string) error {
	temp, err := b.draft(ctx, path)
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	if err := publish(temp, path); err != nil {
		return err
	}
	return explain(path, syncFolder(filepath.Dir(path)))
}

// draft writes and checks a copy of the logbook's file that is to be named path, and
// returns the name that it has so far.
func (b *Book) draft(ctx context.Context, path string) (name string, err error) {
	if _, err := os.Lstat(path); err == nil {
		return "", exists(path, "a file")
	}
	temp, err := os.CreateTemp(filepath.Dir(path), draftOf(path))
	if errors.Is(err, fs.ErrNotExist) {
		return "", &FileError{path, Missing, "no such folder", "a folder that is there", err}
	}
	if err != nil {
		return "", explain(path, err)
	}
	defer func() {
		temp.Close()
		if err != nil {
			os.Remove(temp.Name())
		}
	}()
	if err := b.copyTo(ctx, temp.Name()); err != nil {
		if trouble, ok := errors.AsType[*FileError](err); ok && trouble.Path == temp.Name() {
			trouble.Path = path // the name it is to get
		}
		return "", err
	}
	return temp.Name(), explain(path, temp.Sync())
}

// draftOf is the pattern of the names that what is to be named path has before.
func draftOf(path string) string { return "." + filepath.Base(path) + ".*" }

// copyPhotos makes the album of a copy of the logbook, unless it holds no photo. What
// goes wrong leaves none.
func (b *Book) copyPhotos(ctx context.Context, draft string, to album) (copied Copied, err error) {
	var files []photoFile
	err = lookInto(ctx, draft, func(r *reader) (err error) {
		files, err = list(r, scanPhotoFile, "SELECT DISTINCT sha256, kind FROM photos ORDER BY sha256, kind")
		return err
	})
	if err != nil || files == nil {
		return copied, err
	}
	temp, err := os.MkdirTemp(filepath.Dir(string(to)), draftOf(string(to)))
	if err != nil {
		return copied, explain(string(to), err)
	}
	defer os.RemoveAll(temp)
	if copied, err = album(temp).copyAll(ctx, b.photos, files); err != nil {
		if trouble, ok := errors.AsType[*FileError](err); ok {
			trouble.Path = strings.Replace(trouble.Path, temp, string(to), 1) // the name it was to get
		}
		return copied, err
	}
	if copied.Photos == 0 {
		return copied, nil
	}
	return copied, to.publish(temp)
}

func exists(path, what string) error {
	return &FileError{path, Exists, what + " of that name", "a new name: nothing is overwritten", nil}
}

// copyTo fills an empty file and checks the copy against what stood before it was
// begun: rows are never deleted, so the copy has as many or more.
func (b *Book) copyTo(ctx context.Context, path string) error {
	before, err := viewed(ctx, b, (*reader).counts)
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
	return lookInto(ctx, path, func(r *reader) error { return r.verify(path, before) })
}

// lookInto runs a function that reads a copy.
func lookInto(ctx context.Context, path string, read func(*reader) error) error {
	db, err := sql.Open("sqlite", source(path)) // SQLite checks less of a file opened to read only
	if err != nil {
		return err
	}
	defer db.Close()
	return (&Book{db: db, path: path}).view(ctx, read)
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
		return faultyCopy(path, problems[0].Found)
	}
	return nil
}

func faultyCopy(path, found string) error {
	return &FileError{path, Damaged, "a faulty copy: " + found, "a whole one: try again, on another disk", nil}
}

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
		return exists(path, "a file")
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
