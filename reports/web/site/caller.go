package site

import (
	"context"
	"net/http"
)

// Caller is who sends a request, as the page's guard knows them.
type Caller struct {
	Proof string // shows that a form of theirs is ours
	Hosts bool   // they sit at the machine that serves the page, and may let other devices in
}

type callerKey struct{}

// On is a request that a caller sends.
func (c Caller) On(r *http.Request) *http.Request {
	return r.WithContext(context.WithValue(r.Context(), callerKey{}, c))
}

// CallerOf is who sends a request.
func CallerOf(r *http.Request) Caller {
	c, _ := r.Context().Value(callerKey{}).(Caller)
	return c
}
