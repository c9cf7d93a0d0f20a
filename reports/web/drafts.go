package web

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"sync"
)

// How much is kept in memory of photos that are being read (assumptions: what a keeper has
// open at once, on a small machine).
const (
	mostDrafts     = 8
	mostDraftBytes = 256 << 20 // of files
	mostUpload     = 64 << 20  // bytes of one file
)

// drafts are the photos that were sent and not yet saved, the latest last. They live in
// memory alone: what is not saved is gone when the server stops.
type drafts struct {
	mu     sync.Mutex
	list   []*draft
	decode chan struct{} // held by who decodes: one at a time
}

// draft is a photo that is being read.
type draft struct {
	id      string
	content []byte

	mu    sync.Mutex // held by who reads
	shot  Shot       // nil: not decoded yet, or let go to save memory
	state draftState
}

// draftState is what a page shows again after a reload.
type draftState struct {
	Tank    string          `json:"tank"`
	Station string          `json:"station"`
	Date    string          `json:"date"`
	Picks   json.RawMessage `json:"picks,omitempty"`
	Surface float64         `json:"surface_mm"`
	Cuts    []Cut           `json:"cuts,omitempty"`
	Signs   []string        `json:"signs,omitempty"`
	Note    string          `json:"note,omitempty"`
}

func newDrafts() *drafts { return &drafts{decode: make(chan struct{}, 1)} }

// add keeps a photo's file. The same file is the same draft.
func (d *drafts) add(content []byte) *draft {
	sum := sha256.Sum256(content)
	id := hex.EncodeToString(sum[:16])
	d.mu.Lock()
	defer d.mu.Unlock()
	if i := slices.IndexFunc(d.list, func(one *draft) bool { return one.id == id && bytes.Equal(one.content, content) }); i >= 0 {
		one := d.list[i]
		d.list = append(slices.Delete(d.list, i, i+1), one)
		return one
	}
	one := &draft{id: id, content: content}
	d.list = append(d.list, one)
	size := 0
	for i, kept := range slices.Backward(d.list) {
		if size += len(kept.content); size > mostDraftBytes || len(d.list)-i > mostDrafts {
			d.list = d.list[i+1:]
			break
		}
	}
	return one
}

// find is the draft of an id.
func (d *drafts) find(id string) (*draft, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, one := range d.list {
		if one.id == id {
			return one, nil
		}
	}
	return nil, Fault(ErrMissing, errors.New("the photo is no longer here: choose it again"))
}

// drop forgets a draft.
func (d *drafts) drop(id string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.list = slices.DeleteFunc(d.list, func(one *draft) bool { return one.id == id })
}

// errBusy: another photo is being decoded.
var errBusy = errors.New("another photo is being decoded: this one waits its turn")

// open decodes a draft's photo, if that was not done, and lets the decoded pictures of all
// other drafts go. It gives errBusy rather than wait for another decoding. The draft must
// be held.
func (d *drafts) open(ctx context.Context, one *draft, photos Photos) (Shot, error) {
	if one.shot != nil {
		return one.shot, nil
	}
	select {
	case d.decode <- struct{}{}:
		defer func() { <-d.decode }()
	default:
		return nil, errBusy
	}
	d.letGo(one)
	shot, err := photos.Open(one.content)
	if err != nil {
		return nil, Fault(ErrInput, fmt.Errorf("the photo: %w", err))
	}
	one.shot = shot
	return shot, ctx.Err()
}

// letGo forgets the decoded pictures of all drafts but one, as far as nobody reads in them.
func (d *drafts) letGo(but *draft) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, one := range d.list {
		if one != but && one.mu.TryLock() {
			one.shot = nil
			one.mu.Unlock()
		}
	}
}
