package site

import (
	"errors"
	"net/http"
)

// The errors that have a status of their own; any other error of the store is a failure.
var (
	ErrMissing = errors.New("not found")     // what was asked for
	ErrTaken   = errors.New("already there") // what was to be saved
	ErrInput   = errors.New("not valid")     // what was entered
)

// StatusOf is the HTTP status for an error.
func StatusOf(err error) int {
	var tooLarge *http.MaxBytesError
	switch {
	case errors.Is(err, ErrMissing):
		return http.StatusNotFound
	case errors.Is(err, ErrTaken):
		return http.StatusConflict
	case errors.Is(err, ErrInput):
		return http.StatusUnprocessableEntity
	case errors.As(err, &tooLarge):
		return http.StatusRequestEntityTooLarge
	}
	return http.StatusInternalServerError
}

// A kindError is an error of a kind whose own words say everything.
type kindError struct {
	error
	kind error
}

func (e kindError) Unwrap() []error { return []error{e.error, e.kind} }

// WithKind is an error in the words of err that also counts as one of a kind: ErrMissing,
// ErrTaken, ErrInput or an *http.MaxBytesError.
func WithKind(kind, err error) error { return kindError{err, kind} }
