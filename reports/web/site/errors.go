package site

import (
	"errors"
	"net/http"
)

// The errors that have a status of their own; all else that the store says is a failure.
var (
	ErrMissing = errors.New("there is none")                // what was asked for
	ErrTaken   = errors.New("there is one already")         // what was to be filed
	ErrInput   = errors.New("what was entered can't stand") // by what was typed
)

// StatusOf is the status that tells an error.
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

// A kindError is an error whose words stand by themselves, of a kind.
type kindError struct {
	error
	kind error
}

func (e kindError) Unwrap() []error { return []error{e.error, e.kind} }

// WithKind is an error in the words of err that counts as one of a kind too: ErrMissing,
// ErrTaken, ErrInput or an *http.MaxBytesError.
func WithKind(kind, err error) error { return kindError{err, kind} }
