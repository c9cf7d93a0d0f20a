package shell

import (
	"crypto/rand"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// WriteFile writes a file completely or not at all: first under a temporary name next to it. An
// existing file is kept unless force is true.
func WriteFile(path string, force bool, content []byte) error {
	if err := MayWrite(path, force); err != nil {
		return err
	}
	draft, err := os.OpenFile(filepath.Join(filepath.Dir(path), ".panecore-"+rand.Text()), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	var refused *fs.PathError
	if errors.As(err, &refused) {
		refused.Path = path // the temporary name says nothing to the keeper
	}
	if err != nil {
		return err
	}
	defer os.Remove(draft.Name())
	_, err = draft.Write(content)
	if former, missing := os.Stat(path); err == nil && missing == nil { // keep its permissions
		err = draft.Chmod(former.Mode().Perm())
	}
	if err == nil {
		err = draft.Sync()
	}
	if closed := draft.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	return os.Rename(draft.Name(), path)
}

// WritePrivate writes a file that only its owner may read, completely or not at all, in a folder
// that it makes if it is missing. A program that is stopped meanwhile leaves a file there whose name
// begins with a dot.
func WritePrivate(path string, content []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	draft, err := os.CreateTemp(filepath.Dir(path), ".panecore-*") // its mode is 0600
	if err != nil {
		return err
	}
	defer os.Remove(draft.Name())
	_, err = draft.Write(content)
	if err == nil {
		err = draft.Sync()
	}
	if closed := draft.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	return os.Rename(draft.Name(), path)
}

// MayWrite is the error with which WriteFile would refuse a path.
func MayWrite(path string, force bool) error {
	switch info, err := os.Lstat(path); {
	case err != nil: // nothing there, or writing will fail
		if folder, err := os.Stat(filepath.Dir(path)); errors.Is(err, fs.ErrNotExist) || err == nil && !folder.IsDir() {
			return BadInput(path, errors.New("found no such folder, want one that exists"))
		}
	case !info.Mode().IsRegular():
		return BadInput(path, errors.New("found something other than a plain file, want another name"))
	case !force:
		return BadInput(path, errors.New("found a file, want a new name, or --force to overwrite it"))
	case isDatabase(path):
		return BadInput(path, errors.New("found a logbook, which is never overwritten, want another name"))
	}
	return nil
}

// isDatabase reports whether a file is an SQLite database, as every logbook is (SQLite's database
// file format, 1.3).
func isDatabase(path string) bool {
	file, err := os.Open(path)
	if err != nil {
		return false
	}
	defer file.Close()
	const magic = "SQLite format 3\x00"
	head := make([]byte, len(magic))
	_, err = io.ReadFull(file, head)
	return err == nil && string(head) == magic
}

// MakeFolder creates a folder if it is missing.
func MakeFolder(path string) error {
	if info, err := os.Stat(path); err == nil && !info.IsDir() {
		return BadInput(path, errors.New("found a file, want a folder, or a new name for one"))
	}
	return os.MkdirAll(path, 0o777)
}

// FileName is a tank's id as a file name that every system allows.
func FileName(id string) string {
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) {
			return '_'
		}
		return r
	}, id)
	if len(name) > longestName {
		name = strings.ToValidUTF8(name[:longestName], "") // drop a letter that was cut
	}
	return name
}

// longestName is how many bytes of an id go into a file name (assumption: systems allow 255 in
// all).
const longestName = 120
