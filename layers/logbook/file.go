package logbook

import (
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"syscall"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// busyTimeoutMS is how long a program waits for another to finish writing, ms
// (assumption: about the longest import).
const busyTimeoutMS = 10_000

// Open opens the logbook at path. Where there is none it makes one, with the
// folders above it, if create is true. A logbook of an earlier version is brought
// up to date, each step after a verified backup beside it, named path.v1 and so on.
// What can't be opened is left as it is, with a [FileError].
//
// A program opens a logbook once at a time, and shares the Book: on Unix, a file
// opened twice loses its locks when it is closed once.
func Open(ctx context.Context, path string, create bool) (*Book, error) {
	err := inspect(path)
	if create && isTrouble(err, Missing) {
		err = explain(path, os.MkdirAll(filepath.Dir(path), 0o777))
	}
	if err != nil {
		return nil, err
	}
	db, err := sql.Open("sqlite", source(path))
	if err != nil {
		return nil, err
	}
	b := &Book{db: db, path: path}
	err = b.bringUpToDate(ctx, create)
	if err == nil {
		b.photos, err = albumBeside(path)
	}
	if err != nil {
		db.Close()
		return nil, err
	}
	return b, nil
}

// source is how database/sql names the file at path. A transaction that is to write
// takes its turn at the start, so that none fails half-way because of another.
func source(path string) string {
	return fmt.Sprintf("%s?_txlock=immediate&_pragma=foreign_keys(1)&_pragma=synchronous(FULL)&_pragma=busy_timeout(%d)",
		uri(path), busyTimeoutMS)
}

// uri is how SQLite names the file at path, whatever letters are in it.
func uri(path string) string { return "file:" + (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath() }

// The header of a SQLite database (The SQLite Database File Format, section 1.3):
// its first bytes, and where the user version and the application id stand.
const (
	magic         = "SQLite format 3\x00"
	headerLength  = 100 // bytes
	versionAt     = 60
	applicationAt = 68

	application = 1885433445 // the letters "pane", as in schema/1.sql
)

// inspect looks at a file before SQLite does, which would leave its traces beside
// a file of another program. It opens it to write as well, as SQLite will.
func inspect(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if info, missing := os.Stat(path); missing == nil && info.IsDir() {
		return &FileError{path, Foreign, "a folder", "a logbook", nil}
	}
	if errors.Is(err, fs.ErrNotExist) {
		return missing(path)
	}
	if err != nil {
		return explain(path, err)
	}
	defer file.Close()
	var header [headerLength]byte
	switch _, err := io.ReadFull(file, header[:]); {
	case err == io.EOF:
		return missing(path)
	case err == io.ErrUnexpectedEOF || string(header[:len(magic)]) != magic:
		return &FileError{path, Foreign, "a file that is no logbook", "a logbook", nil}
	case err != nil:
		return explain(path, err)
	case binary.BigEndian.Uint32(header[applicationAt:]) != application:
		return &FileError{path, Foreign, "another program's database", "a logbook", nil}
	}
	return checkVersion(path, int(binary.BigEndian.Uint32(header[versionAt:])))
}

func missing(path string) error {
	return &FileError{path, Missing, "no logbook yet", "one: 'panecore tank add' and 'panecore import' make it", nil}
}

func checkVersion(path string, version int) error {
	if version <= len(steps()) {
		return nil
	}
	return &FileError{path, Newer, fmt.Sprint("a logbook of version ", version),
		fmt.Sprintf("version %d or earlier, or the later program that wrote it", len(steps())), nil}
}

func (b *Book) explain(err error) error { return explain(b.path, err) }

// explain words what SQLite or the system says of a file; other errors stay as they are.
func explain(path string, err error) error {
	if err == nil {
		return nil
	}
	if _, ok := errors.AsType[*FileError](err); ok {
		return err
	}
	trouble := func(kind Trouble, found, want string) error { return &FileError{path, kind, found, want, err} }
	const byteOfKind = 0xff // the rest of an SQLite code is detail
	code := 0
	if cause, ok := errors.AsType[*sqlite.Error](err); ok {
		code = cause.Code()
	}
	switch {
	case code == sqlite3.SQLITE_IOERR_WRITE, code&byteOfKind == sqlite3.SQLITE_FULL,
		errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.Is(err, syscall.EFBIG):
		return trouble(Full, "no room left to write", "free space on the disk; nothing was changed")
	case code&byteOfKind == sqlite3.SQLITE_BUSY:
		return trouble(Busy, fmt.Sprintf("it locked by another program for %d s", busyTimeoutMS/1000), "that program to finish; then try again")
	case code&byteOfKind == sqlite3.SQLITE_CORRUPT, code&byteOfKind == sqlite3.SQLITE_NOTADB:
		return trouble(Damaged, fmt.Sprintf("a damaged logbook (%v)", err), "a whole one: keep this file, and go on with the newest backup")
	case code&byteOfKind == sqlite3.SQLITE_READONLY, code&byteOfKind == sqlite3.SQLITE_CANTOPEN, code&byteOfKind == sqlite3.SQLITE_PERM,
		errors.Is(err, fs.ErrPermission):
		return trouble(Denied, "no permission to read and write it", "a file and a folder that you may write")
	}
	return err
}
