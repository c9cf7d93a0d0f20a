package logbook

import (
	"errors"

	"panecore/layers"
)

// Trouble is what is wrong with the file of a logbook.
type Trouble uint8

// The troubles.
const (
	Missing Trouble = iota // there is no such file, or an empty one
	Foreign                // it is no logbook
	Newer                  // it was written by a later version of the program
	Damaged                // SQLite can't make sense of it
	Denied                 // the system denies access
	Busy                   // another program kept it locked
	Full                   // the disk, or what the system lets a file grow to, is full
	Exists                 // there is one already, which is never overwritten
)

// A FileError is trouble with a file: what was found, what is wanted and how to mend it.
type FileError struct {
	Path        string
	Trouble     Trouble
	Found, Want string
	Err         error // the cause, or nil
}

func (e *FileError) Error() string { return e.Path + ": found " + e.Found + ", want " + e.Want }

// Unwrap returns the cause.
func (e *FileError) Unwrap() error { return e.Err }

// isTrouble reports whether err is a FileError of a kind.
func isTrouble(err error, kind Trouble) bool {
	found, ok := errors.AsType[*FileError](err)
	return ok && found.Trouble == kind
}

// A NotFoundError is a name or a key that the logbook does not hold.
type NotFoundError struct {
	What string // as in `tank "ketle"` or `core front 2026-11-01 of tank "kettle"`
	Near string // the one it may have been meant for, or empty
}

func (e *NotFoundError) Error() string {
	line := "found no " + e.What + ", want one that the logbook holds"
	if e.Near != "" {
		line += ": did you mean " + e.Near + "?"
	}
	return line
}

// A TakenError is a name or a key that the logbook holds already.
type TakenError struct{ What string }

func (e *TakenError) Error() string {
	return "found " + e.What + " in the logbook already, want another one"
}

// A ConflictError lists the entries that the logbook holds with another value and that
// nothing says to replace, a fault each.
type ConflictError struct{ Faults layers.Faults }

func (e *ConflictError) Error() string { return e.Faults.Error() }

// The errors of [Book.Undo].
var (
	ErrNothingToUndo = errors.New("found no change left to take back")
	ErrNotLast       = errors.New("found another change to be the last one, want the one that is to be taken back: " +
		"it was taken back before, or something was changed since")
)
