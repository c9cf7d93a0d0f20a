package reader

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"sync"

	"panecore/layers"
	"panecore/reports/web/site"
)

// How much is kept in memory of photos that are being read (assumptions: what a keeper has
// open at once, on a small machine).
const (
	mostDrafts     = 8
	mostDraftBytes = 256 << 20 // of files
	mostUpload     = 64 << 20  // bytes of one file
	mostDecoded    = 32 << 20  // pixels of decoded pictures that stay while another is decoded
)

// drafts are the photos that were sent and not yet saved, the latest used last. They live
// in memory alone: what is not saved is gone when the server stops.
type drafts struct {
	mu     sync.Mutex
	list   []*draft
	decode chan struct{} // held by who decodes: one at a time
}

// draft is a photo that is being read.
type draft struct {
	id      string
	sum     string // SHA-256 of the file, hexadecimal
	content []byte

	reading sync.Mutex // held by who decodes or reads
	shot    Shot       // nil: not decoded yet, or let go to save memory

	mu    sync.Mutex // guards what follows, for a moment
	sight *draftSight
	state *readRequest // what the page told last; nil: nothing yet
}

// draftSight is what was learnt of a photo when it was decoded, and stays when the decoded
// picture is let go.
type draftSight struct {
	width, height int // pixels of the upright picture
	taken         layers.Date
	screen        []byte // JPEG
}

func newDrafts() *drafts { return &drafts{decode: make(chan struct{}, 1)} }

// add keeps a photo's file. The same file is the same draft.
func (d *drafts) add(content []byte) *draft {
	sum := sha256.Sum256(content)
	whole := hex.EncodeToString(sum[:])
	d.mu.Lock()
	defer d.mu.Unlock()
	if i := slices.IndexFunc(d.list, func(photo *draft) bool { return photo.sum == whole && bytes.Equal(photo.content, content) }); i >= 0 {
		return d.use(i)
	}
	photo := &draft{id: whole[:32], sum: whole, content: content}
	d.list = append(d.list, photo)
	size := 0
	for i, kept := range slices.Backward(d.list) {
		if size += len(kept.content); size > mostDraftBytes || len(d.list)-i > mostDrafts {
			d.list = slices.Delete(d.list, 0, i+1)
			break
		}
	}
	return photo
}

// use makes a draft the latest. The list must be held.
func (d *drafts) use(i int) *draft {
	photo := d.list[i]
	d.list = append(slices.Delete(d.list, i, i+1), photo)
	return photo
}

// find is the draft of an id, for work on it: it becomes the latest.
func (d *drafts) find(id string) (*draft, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if i := d.index(id); i >= 0 {
		return d.use(i), nil
	}
	return nil, errGone
}

// look is the draft of an id, only to be shown: it keeps its turn to be put away.
func (d *drafts) look(id string) (*draft, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if i := d.index(id); i >= 0 {
		return d.list[i], nil
	}
	return nil, errGone
}

// index is the place of a draft; -1: it is gone. The list must be held.
func (d *drafts) index(id string) int {
	return slices.IndexFunc(d.list, func(photo *draft) bool { return photo.id == id })
}

// errGone tells that a draft was saved, dropped or pushed out by newer ones.
var errGone = site.WithKind(site.ErrMissing, fmt.Errorf("this photo is no longer here: it was saved or thrown away, %d newer ones were opened, or panecore was started anew. Choose it again", mostDrafts))

// all lists the drafts, the latest first.
func (d *drafts) all() []*draft {
	d.mu.Lock()
	defer d.mu.Unlock()
	list := slices.Clone(d.list)
	slices.Reverse(list)
	return list
}

// drop forgets a draft.
func (d *drafts) drop(id string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.list = slices.DeleteFunc(d.list, func(photo *draft) bool { return photo.id == id })
}

// errBusy tells that another photo is being decoded.
var errBusy = errors.New("another photo is being opened; this one comes next")

// open decodes a draft's photo, if that was not done, and lets decoded pictures of other
// drafts go that take too much room. It gives errBusy rather than wait for another decoding.
// The draft must be held for reading.
func (d *drafts) open(ctx context.Context, photo *draft, photos Reader) (Shot, error) {
	if photo.shot != nil {
		return photo.shot, nil
	}
	select {
	case d.decode <- struct{}{}:
		defer func() { <-d.decode }()
	default:
		return nil, errBusy
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	d.letGo(photo)
	shot, err := photos.Open(photo.content)
	if err != nil {
		return nil, site.WithKind(site.ErrInput, err)
	}
	if photo.seen() == nil {
		screen, err := shot.Screen()
		if err != nil {
			return nil, err
		}
		s := &draftSight{taken: shot.Taken(), screen: screen}
		s.width, s.height = shot.Size()
		photo.mu.Lock()
		photo.sight = s
		photo.mu.Unlock()
	}
	photo.shot = shot
	return shot, nil
}

// letGo forgets the decoded pictures of drafts other than except, the latest used last, until
// what stays is small enough. Where somebody is reading, the picture stays.
func (d *drafts) letGo(except *draft) {
	pixels := 0
	for _, photo := range d.all() {
		if photo == except || !photo.reading.TryLock() {
			continue
		}
		if photo.shot != nil {
			width, height := photo.shot.Size()
			if size := width * height; pixels+size <= mostDecoded {
				pixels += size
			} else {
				photo.shot = nil
			}
		}
		photo.reading.Unlock()
	}
}

// seen is what was learnt of the photo; nil: it was not decoded yet.
func (photo *draft) seen() *draftSight {
	photo.mu.Lock()
	defer photo.mu.Unlock()
	return photo.sight
}

// keep remembers what the page told last.
func (photo *draft) keep(state readRequest) {
	photo.mu.Lock()
	defer photo.mu.Unlock()
	photo.state = &state
}

// told is what the page told last; nil: nothing yet.
func (photo *draft) told() *readRequest {
	photo.mu.Lock()
	defer photo.mu.Unlock()
	return photo.state
}
