package reader

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
)

// shelf keeps drafts in memory, as a folder would.
type shelf struct {
	photos, states map[string][]byte
	order          []string
	told           []string
}

func newShelf() *shelf { return &shelf{photos: map[string][]byte{}, states: map[string][]byte{}} }

func (s *shelf) All() (list []KeptDraft) {
	for _, id := range s.order {
		list = append(list, KeptDraft{id, s.photos[id], s.states[id]})
	}
	return list
}

func (s *shelf) KeepPhoto(id string, content []byte) {
	s.photos[id] = content
	s.order = append(s.order, id)
}

func (s *shelf) KeepState(id string, state []byte) { s.states[id] = state }

func (s *shelf) Drop(id string) {
	delete(s.photos, id)
	delete(s.states, id)
	s.order = slices.DeleteFunc(s.order, func(kept string) bool { return kept == id })
}

func (s *shelf) Spoilt(id string, why error) { s.told = append(s.told, why.Error()) }

// What was sent and marked is there again after a restart, and what was put away is not.
func TestRestored_asItWas(t *testing.T) {
	s := newShelf()
	d := restored(s)
	marked, bare, gone := d.add([]byte("photo one")), d.add([]byte("photo two")), d.add([]byte("photo three"))
	lit, y := true, 12.5
	q := readRequest{
		Tank: "hall", Station: "front", Date: "2026-11-01", Surface: 1.5, Lit: &lit, Signs: []string{"gas-bubbles"}, Note: "a “note”",
		Picks: marks{Ruler: &rulerMark{From: [2]float64{1, 2}, Length: "70mm"}, Cards: []cardMark{{Reflectance: "18%"}}, Strip: &[4]float64{1, 2, 3, 4}, Surface: &y},
		Cuts:  []cutRequest{{BottomMM: 12, Band: "rust"}},
	}
	marked.state.Store(&q)
	d.keepState(marked)
	d.drop(gone.id, thrownAway(gone.id))
	gone.state.Store(&q)
	d.keepState(gone) // by a page that asks on

	next := restored(s)
	var ids []string
	for _, photo := range next.list {
		ids = append(ids, photo.id)
	}
	if want := []string{marked.id, bare.id}; !slices.Equal(ids, want) || len(s.told) > 0 {
		t.Fatalf("found %q, want %q; told %q", ids, want, s.told)
	}
	if next.list[1].state.Load() != nil {
		t.Error("marks where there were none")
	}
	again, err := next.find(marked.id)
	if err != nil || string(again.content) != "photo one" || again.sum != marked.sum {
		t.Fatalf("%v: %q", err, again.content)
	}
	if got, want := fmt.Sprintf("%+v", asText(t, again)), fmt.Sprintf("%+v", asText(t, marked)); got != want {
		t.Errorf("marked %s, want %s", got, want)
	}
	if len(s.states) != 1 {
		t.Errorf("kept the marks of %d photos", len(s.states))
	}
}

func asText(t *testing.T, photo *draft) string {
	t.Helper()
	s := newShelf()
	(&drafts{kept: s, list: []*draft{photo}}).keepState(photo)
	return string(s.states[photo.id])
}

// Which core a photo was opened to amend is known again after a restart, whether it was marked since or not.
func TestRestored_amends(t *testing.T) {
	s := newShelf()
	d := restored(s)
	of := coreAt{"hall", "front", layers.Date(20400)}
	opened, marked := d.add([]byte("photo one")), d.add([]byte("photo two"))
	for _, photo := range []*draft{opened, marked} {
		photo.of.Store(&of)
	}
	marked.state.Store(&readRequest{Tank: "hall"})
	d.keepState(opened)
	d.keepState(marked)
	for i, photo := range restored(s).list {
		if at := photo.of.Load(); at == nil || *at != of {
			t.Errorf("photo %d amends %v, want %v", i+1, at, of)
		}
		if (photo.state.Load() != nil) != (i == 1) {
			t.Errorf("photo %d is marked: %t", i+1, photo.state.Load() != nil)
		}
	}
}

// No more is kept than there may be.
func TestRestored_bounded(t *testing.T) {
	s := newShelf()
	d := restored(s)
	for i := range mostDrafts + 3 {
		d.add(fmt.Appendf(nil, "photo %d", i))
	}
	if len(s.photos) != mostDrafts || len(d.list) != mostDrafts {
		t.Errorf("kept %d, listed %d", len(s.photos), len(d.list))
	}
	for i := range 3 { // another server's
		more := newDraft(fmt.Appendf(nil, "other %d", i))
		s.KeepPhoto(more.id, more.content)
	}
	if next := restored(s); len(s.photos) != mostDrafts || len(next.list) != mostDrafts || string(next.list[mostDrafts-1].content) != "other 2" {
		t.Errorf("kept %d, listed %d", len(s.photos), len(next.list))
	}
}

// A damaged photo is left out and damaged marks are, each with a word.
func TestRestored_damaged(t *testing.T) {
	s := newShelf()
	d := restored(s)
	cut, scrawled, whole := d.add([]byte("photo one")), d.add([]byte("photo two")), d.add([]byte("photo three"))
	s.photos[cut.id] = []byte("photo")
	s.states[scrawled.id] = []byte(`{"tank":"hall","of":{"tank":"hall","station":"front","date":"soon"}}`)
	next := restored(s)
	if len(next.list) != 2 || next.list[0].id != scrawled.id || next.list[1].id != whole.id || next.list[0].state.Load() != nil || next.list[0].of.Load() != nil {
		t.Errorf("found %d", len(next.list))
	}
	if len(s.told) != 2 || !strings.Contains(s.told[0], "want "+cut.id) || !strings.Contains(s.told[1], "marks that can't be read") {
		t.Errorf("told %q", s.told)
	}
	if kept := slices.Sorted(maps.Keys(s.photos)); len(kept) != 2 {
		t.Errorf("kept %q", kept)
	}
}
