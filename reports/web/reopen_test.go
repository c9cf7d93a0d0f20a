package web

import (
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panecore/reports/web/reader"
	"panecore/reports/web/site"
)

// "Amend" opens the photo that a core was read from with the marks, edges and names of that core, though the same photo
// was filed at another place first; the form for typing is still there.
func TestReopen(t *testing.T) {
	p := newPhotoServer(t)
	left := fakeRequest()
	p.want(p.save(p.sendPhoto(fakePhoto), saveRequest{readRequest: left}), http.StatusOK)
	front := fakeRequest()
	front.Station, front.Surface, front.Cuts = "other", 1, []cutRequest{{14, "mulm-dark"}, {80, ""}}
	p.want(p.save(p.sendPhoto(fakePhoto), saveRequest{readRequest: front}), http.StatusOK)

	core := site.CoreAddress(front.Tank, front.Station, p.store.today)
	page := p.get("/tank/" + front.Tank)
	p.want(page, http.StatusOK, `action="`+core+`/photo"`, `href="`+core+`/drawn.jpg"`, `href="`+core+`" aria-label="Amend by hand: other, `+fakeToday+`"`)
	p.want(p.get(core), http.StatusOK, `action="`+core+`/photo"`, "Open the photo instead")
	p.want(p.get(core+"/drawn.jpg"), http.StatusOK, "drawn on "+fakePhoto)

	for _, q := range []readRequest{front, left} {
		opened := p.post(site.CoreAddress(q.Tank, q.Station, p.store.today)+"/photo", nil)
		p.want(opened, http.StatusSeeOther)
		at := opened.Header().Get("Location")
		p.want(p.get(at), http.StatusOK, "photo.js")
		draft, query, _ := strings.Cut(at, "?")
		q.Confirmed = saved
		again := answerOf[stateAnswer](p, p.get(draft+"/state?"+query).Body.Bytes())
		if !again.Again || !cmp.Equal(again.State, q) {
			t.Errorf("%s opens otherwise than it was saved:\n%s", q.Station, cmp.Diff(q, again.State))
		}
		p.postJSON(draft+"/read", q) // as the page does, after which the draft holds the state
	}
}

// A core whose photo was opened to be amended moves to another place or day; a photo that is only sent again is of another
// core then.
func TestReopen_moves(t *testing.T) {
	p := newPhotoServer(t)
	q := fakeRequest()
	p.want(p.save(p.sendPhoto(fakePhoto), saveRequest{readRequest: q}), http.StatusOK)
	holds := func(station string) bool {
		tank, _ := p.store.Tank(t.Context(), q.Tank)
		return coreAt(&tank, station, p.store.today) >= 0
	}
	opened := p.post(site.CoreAddress(q.Tank, q.Station, p.store.today)+"/photo", nil)
	draft, _, _ := strings.Cut(opened.Header().Get("Location"), "?")
	former := q.Station
	q.Station = "moved"
	p.want(p.save(draft, saveRequest{readRequest: q}), http.StatusOK)
	if holds(former) || !holds("moved") {
		t.Errorf("%s holds a reading: %t, the new place: %t", former, holds(former), holds("moved"))
	}
	q.Station = "besides"
	p.want(p.save(p.sendPhoto(fakePhoto), saveRequest{readRequest: q}), http.StatusOK)
	if !holds("moved") || !holds("besides") {
		t.Errorf("a photo sent again took the reading of the other place: %t, %t", holds("moved"), holds("besides"))
	}
}

// keptDrafts keeps drafts in memory.
type keptDrafts map[string]reader.KeptDraft

func (k keptDrafts) All() []reader.KeptDraft { return slices.Collect(maps.Values(k)) }
func (k keptDrafts) KeepPhoto(id string, content []byte) {
	k[id] = reader.KeptDraft{ID: id, Content: content}
}
func (k keptDrafts) KeepState(id string, state []byte) {
	k[id] = reader.KeptDraft{ID: id, Content: k[id].Content, State: state}
}
func (k keptDrafts) Drop(id string)       { delete(k, id) }
func (k keptDrafts) Spoilt(string, error) {}

// A photo that was opened to be amended before the server was started again still takes its core along; one that was sent
// again since does not.
func TestReopen_movesAfterRestart(t *testing.T) {
	for sent, leaves := range map[bool]bool{false: true, true: false} {
		kept := keptDrafts{}
		p := newTestServerOn(t, Options{Photos: &fakePhotos{}, Drafts: kept})
		q := fakeRequest()
		p.want(p.save(p.sendPhoto(fakePhoto), saveRequest{readRequest: q}), http.StatusOK)
		opened := p.post(site.CoreAddress(q.Tank, q.Station, p.store.today)+"/photo", nil)
		draft, _, _ := strings.Cut(opened.Header().Get("Location"), "?")
		if sent {
			p.sendPhoto(fakePhoto)
		}
		next := newTestServerOn(t, Options{Photos: &fakePhotos{}, Drafts: kept})
		next.store.tanks = p.store.tanks
		former := q.Station
		q.Station = "moved"
		next.want(next.save(draft, saveRequest{readRequest: q}), http.StatusOK)
		tank, _ := next.store.Tank(t.Context(), q.Tank)
		if left := coreAt(&tank, former, p.store.today) < 0; left != leaves || coreAt(&tank, "moved", p.store.today) < 0 {
			t.Errorf("sent again: %t; the core left its former place: %t", sent, left)
		}
	}
}

// A core without a photo has nothing to open but the form.
func TestReopen_noPhoto(t *testing.T) {
	p := newPhotoServer(t)
	tank := p.store.tanks[0]
	core := site.CoreAddress(tank.ID, tank.Cores[0].Station, tank.Cores[0].Date)
	p.want(p.post(core+"/photo", nil), http.StatusNotFound)
	p.want(p.get(core+"/drawn.jpg"), http.StatusNotFound)
	p.want(p.get(core), http.StatusOK)
}
