package logbook

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// An album is the folder of photos beside a logbook, by its path. A file in it is
// named for its content, so that it is never written to again.
type album string

// A photoFile is a file of an album.
type photoFile struct{ sum, kind string }

func (f photoFile) name() string { return f.sum + "." + f.kind }

// PhotoFolder is the folder that holds the photos of the logbook at path, each as
// <SHA-256>.<kind>.
func PhotoFolder(path string) string { return path + ".photos" }

func albumOf(path string) album { return album(PhotoFolder(path)) }

// albumBeside is the album beside the file that path, which may be a link, leads to:
// it is the same whichever way a logbook is opened.
func albumBeside(path string) (album, error) {
	file, err := filepath.EvalSymlinks(path)
	return albumOf(file), explain(path, err)
}

// Beside is the path beside the logbook's file that ends in .kind: that of a folder for what
// belongs to the logbook and is no record. It is the same whichever way the logbook is opened.
func (b *Book) Beside(kind string) string {
	return strings.TrimSuffix(string(b.photos), PhotoFolder("")) + "." + kind
}

func (a album) path(name string) string { return filepath.Join(string(a), name) }

// keep has a photo's content on disk when it returns nil. A file that holds it already
// is left alone, whoever wrote it.
func (a album) keep(f photoFile, content []byte) error {
	if err := os.MkdirAll(string(a), 0o777); err != nil {
		return explain(string(a), err)
	}
	if !a.holds(f) {
		if err := a.write(f.name(), bytes.NewReader(content)); err != nil {
			return err
		}
	}
	for _, folder := range []string{string(a), filepath.Dir(string(a))} { // the names, too
		if err := syncFolder(folder); err != nil {
			return explain(folder, err)
		}
	}
	return nil
}

// holds reports whether a photo is there and whole.
func (a album) holds(f photoFile) bool {
	sum, err := checksumOf(a.path(f.name()))
	return err == nil && sum == f.sum
}

// write writes a file, which gets its name once it is on disk. Only one program writes
// to an album at a time: the one whose turn it is to change the logbook.
func (a album) write(name string, content io.Reader) error {
	path, draft := a.path(name), a.path("."+name+".part")
	file, err := os.Create(draft)
	if err != nil {
		return explain(path, err)
	}
	defer os.Remove(draft)
	defer file.Close()
	if _, err := io.Copy(file, content); err != nil {
		return explain(path, err)
	}
	if err := file.Sync(); err != nil {
		return explain(path, err)
	}
	if err := file.Close(); err != nil { // Windows renames no open file
		return explain(path, err)
	}
	return explain(path, os.Rename(draft, path))
}

func (a album) copyAll(ctx context.Context, other album, files []photoFile) (copied Copied, err error) {
	for _, f := range files {
		if err := ctx.Err(); err != nil {
			return copied, err
		}
		whole, err := a.copyFrom(other, f)
		switch {
		case err != nil:
			return copied, err
		case whole:
			copied.Photos++
		default:
			copied.Lost++
		}
	}
	return copied, explain(string(a), syncFolder(string(a)))
}

// publish gives an album that is finished its name, which none may bear.
func (a album) publish(draft string) error {
	err := fs.ErrExist
	if _, missing := os.Lstat(string(a)); missing != nil { // a rename would take the place of an empty folder
		err = os.Rename(draft, string(a))
	}
	if errors.Is(err, fs.ErrExist) {
		return exists(string(a), "a folder")
	}
	return explain(string(a), err)
}

// copyFrom copies a photo from another album and reports whether it was whole there. If
// it was not, it is left out.
func (a album) copyFrom(other album, f photoFile) (whole bool, err error) {
	if !other.holds(f) {
		return false, nil
	}
	original, err := os.Open(other.path(f.name()))
	if err != nil {
		return false, explain(other.path(f.name()), err)
	}
	defer original.Close()
	if err := a.write(f.name(), original); err != nil {
		return false, err
	}
	if !a.holds(f) {
		return false, faultyCopy(a.path(f.name()), "another content than that of "+other.path(f.name()))
	}
	return true, nil
}

// checksumOf is the SHA-256 of the file at path, in hexadecimal digits.
func checksumOf(path string) (string, error) {
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, file); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
