package reader

import (
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"panecore/reports/web/site"
)

// Whatever tabs do on a draft and in whatever order, none changes a state that it has not seen
// or made, and one that knows the latest state always may.
func TestTurn_nothingUnseenIsChanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := new(drafts)
		photo := d.add([]byte("photo"))
		const none = "no state yet"
		var seen [3]string  // the note of the state that each tab knows
		var known [3]int64  // and its count
		latest := none      // the note of the draft's state
		opened := [3]bool{} // tabs that have loaded the state
		for step := range rapid.IntRange(1, 40).Draw(t, "steps") {
			tab := rapid.IntRange(0, 2).Draw(t, "tab")
			if !opened[tab] || rapid.Bool().Draw(t, "load") {
				state, count := photo.latest()
				if state != nil {
					seen[tab] = state.Note
				} else {
					seen[tab] = none
				}
				known[tab], opened[tab] = count, true
				continue
			}
			note := fmt.Sprint("note ", step)
			if rapid.Bool().Draw(t, "the same") && seen[tab] != none {
				note = seen[tab]
			}
			r := httptest.NewRequest(http.MethodPost, "/", nil)
			r.Header.Set(tabHeader, fmt.Sprint("tab ", tab))
			r.Header.Set(countHeader, strconv.FormatInt(known[tab], 10))
			w := httptest.NewRecorder()
			err := d.keep(photo, w, r, &readRequest{Note: note})
			var stale staleError
			switch {
			case err == nil && seen[tab] != latest && note != latest:
				t.Fatalf("tab %d, which knows %q, changed %q", tab, seen[tab], latest)
			case errors.As(err, &stale) && seen[tab] == latest:
				t.Fatalf("tab %d is told that it is stale, and knows the latest state %q", tab, latest)
			case err == nil:
				latest, seen[tab] = note, note
				if rapid.Bool().Draw(t, "arrives") { // the answer: a tab may have given up waiting for it
					known[tab], _ = strconv.ParseInt(w.Header().Get(countHeader), 10, 64)
				}
			case !errors.Is(err, site.ErrTaken) || stale.count != photo.turn.count:
				t.Fatal(err)
			}
			if state, _ := photo.latest(); state != nil && state.Note != latest {
				t.Fatalf("the state is %q, want %q", state.Note, latest)
			}
		}
	})
}

// How the latest drafts ended is known, and of no more than there may be.
func TestDrafts_howTheyEnded(t *testing.T) {
	d := new(drafts)
	var first string
	for i := range mostEnded + 1 {
		photo := d.add(fmt.Appendf(nil, "photo %d", i))
		d.drop(photo.id, thrownAway(photo.id))
		d.drop(photo.id, &goneError{photo.id, "dropped twice", "/"})
		if i == 0 {
			first = photo.id
		}
		if _, err := d.find(photo.id); err == nil || err.Error() != thrownAway("").Error() || !errors.Is(err, site.ErrMissing) {
			t.Fatal(err)
		}
	}
	if _, err := d.find(first); err == nil || err.Error() == thrownAway("").Error() || len(d.ended) != mostEnded {
		t.Errorf("%v, and %d are known", err, len(d.ended))
	}
}
