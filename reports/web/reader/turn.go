package reader

import (
	"net/http"
	"reflect"
	"strconv"
	"sync"

	"panecore/reports/web/site"
)

// A tab names itself and the count of the state that it knows in these headers of its requests.
// Answers have the count of the state that was kept.
const (
	tabHeader   = "X-Panecore-Tab"
	countHeader = "X-Panecore-Count"
)

// turn is which tab a draft's state came from last, so that no other one changes it unawares.
type turn struct {
	mu    sync.Mutex
	tab   string // empty: none yet
	count int64  // of the state: each one of any draft has its own
}

// A staleError is the change of a tab that does not know the latest state.
type staleError struct{ count int64 } // of the latest state

func (staleError) Error() string {
	return "another tab or window has changed the marks on this photo: nothing of this one was kept"
}

func (staleError) Unwrap() error { return site.ErrTaken }

// staleAnswer tells a script that it does not know the latest state, and its count.
func staleAnswer(w http.ResponseWriter, e staleError) {
	site.WriteJSON(w, http.StatusConflict, struct {
		Error string `json:"error"`
		Stale int64  `json:"stale"`
	}{e.Error(), e.count})
}

// knows gives an error if a request's tab does not know the latest state: that came from another
// tab since it was loaded. After a restart no tab has sent any yet, and one that is still open may go
// on. The turn must be locked.
func (t *turn) knows(r *http.Request) error {
	if t.tab == "" || r.Header.Get(tabHeader) == t.tab || r.Header.Get(countHeader) == strconv.FormatInt(t.count, 10) {
		return nil
	}
	return staleError{t.count}
}

// keep makes what a tab sends the draft's state, unless another tab has changed that since. The
// same state again, as each page sends it when it opens, changes nothing, nor whose turn it is.
func (d *drafts) keep(photo *draft, w http.ResponseWriter, r *http.Request, state *readRequest) error {
	t := &photo.turn
	t.mu.Lock()
	defer t.mu.Unlock()
	if kept := photo.state.Load(); kept == nil || !reflect.DeepEqual(kept, state) {
		if err := t.knows(r); err != nil {
			return err
		}
		t.tab, t.count = r.Header.Get(tabHeader), d.count.Add(1)
		photo.state.Store(state)
		d.keepState(photo)
	}
	w.Header().Set(countHeader, strconv.FormatInt(t.count, 10))
	return nil
}

// latest is the draft's state, nil if there is none yet, and its count.
func (photo *draft) latest() (state *readRequest, count int64) {
	photo.turn.mu.Lock()
	defer photo.turn.mu.Unlock()
	return photo.state.Load(), photo.turn.count
}

// latest answers a tab that comes to the front again: with nothing, or that its photo is gone or
// was changed in another one.
func (s *room) latest(w http.ResponseWriter, r *http.Request) error {
	photo, err := s.drafts.look(r.PathValue("draft"))
	if err != nil {
		return err
	}
	photo.turn.mu.Lock()
	defer photo.turn.mu.Unlock()
	if err := photo.turn.knows(r); err != nil {
		return err
	}
	w.WriteHeader(http.StatusNoContent)
	return nil
}
