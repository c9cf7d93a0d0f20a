package reader

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"

	"panecore/layers"
)

// Drafts keeps photos that were not saved yet, with what is marked on them, until the next start
// of the server. A failure is its own to tell: the draft stays in memory all the same. One of its
// methods is called at a time.
type Drafts interface {
	// All are the drafts that are kept, the one last used at the end.
	All() []KeptDraft
	KeepPhoto(id string, content []byte)
	KeepState(id string, state []byte) // JSON; of a photo that is kept
	Drop(id string)                    // there may be none
	Spoilt(id string, why error)       // tells that a kept draft, or its state, is no use
}

// KeptDraft is a draft that was kept.
type KeptDraft struct {
	ID      string
	Content []byte // the photo's file
	State   []byte // empty: none
}

// keptState is what is kept of a draft besides its photo.
type keptState struct {
	readRequest           // the zero one: nothing was marked yet
	Of          *keptCore `json:"of,omitempty"` // the core that it was opened to amend; left out: none
}

type keptCore struct {
	Tank    string `json:"tank"`
	Station string `json:"station"`
	Date    string `json:"date"`
}

// restored are the drafts that were kept. A damaged photo is dropped, and damaged marks are left out.
func restored(kept Drafts) *drafts {
	d := &drafts{kept: kept}
	if kept == nil {
		return d
	}
	for _, k := range kept.All() {
		photo := newDraft(k.Content)
		photo.turn.count = d.count.Add(1)
		if photo.id != k.ID {
			kept.Spoilt(k.ID, fmt.Errorf("found a photo of the SHA-256 %s, want %s: it is thrown away", photo.id, k.ID))
			kept.Drop(k.ID)
			continue
		}
		if err := photo.restore(k.State); err != nil {
			kept.Spoilt(k.ID, err)
		}
		d.list = append(d.list, photo)
	}
	d.trim()
	return d
}

// restore takes up what was marked on a photo.
func (photo *draft) restore(state []byte) error {
	if len(state) == 0 {
		return nil
	}
	k, err := parseRequest[keptState](state)
	if err == nil && k.Of != nil {
		var date layers.Date
		date, err = layers.ParseDate(k.Of.Date)
		photo.of.Store(&coreAt{k.Of.Tank, k.Of.Station, date})
	}
	if err != nil {
		photo.of.Store(nil)
		return errors.New("found marks that can't be read, want those that the page sent: the photo is kept without them")
	}
	if !reflect.DeepEqual(k.readRequest, readRequest{}) {
		photo.state.Store(&k.readRequest)
	}
	return nil
}

// keepState keeps what is marked on a draft that is still there, and which core it amends.
func (d *drafts) keepState(photo *draft) {
	if d.kept == nil {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, listed := range d.list {
		if listed != photo {
			continue
		}
		var k keptState
		if q := photo.state.Load(); q != nil {
			k.readRequest = *q
		}
		if of := photo.of.Load(); of != nil {
			k.Of = &keptCore{of.tank, of.station, of.date.String()}
		}
		state, err := json.Marshal(k)
		if err != nil {
			d.kept.Spoilt(photo.id, err)
			return
		}
		d.kept.KeepState(photo.id, state)
	}
}

// forget drops what was kept of a draft.
func (d *drafts) forget(id string) {
	if d.kept != nil {
		d.kept.Drop(id)
	}
}
