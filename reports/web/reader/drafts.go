package reader

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"slices"
	"sync"
	"sync/atomic"

	"panecore/layers"
	"panecore/reports/web/site"
)

// How much of the photos being read stays in memory (assumptions: what a keeper has open at once
// on a small machine).
const (
	mostDrafts     = 8
	mostDraftBytes = 256 << 20 // of files
	mostUpload     = 64 << 20  // bytes of one file
	mostDecoded    = 32 << 20  // pixels of decoded pictures that stay while another one is decoded
)

// drafts are the photos that were sent and not yet saved, the most recent one last.
type drafts struct {
	mu     sync.Mutex
	list   []*draft
	ended  []*goneError // drafts that were saved or thrown away, the latest last
	kept   Drafts       // where they outlast the server; nil: nowhere
	decode sync.Mutex   // held while a photo is decoded: one at a time
	count  atomic.Int64 // of changes to any draft
}

// draft is a photo that is being read.
type draft struct {
	id      string
	sum     string // SHA-256 of the file, hexadecimal
	content []byte

	reading sync.Mutex // held while the photo is decoded or read
	shot    Shot       // nil: not decoded yet, or dropped to save memory

	sight atomic.Pointer[draftSight]  // nil: not decoded yet
	state atomic.Pointer[readRequest] // what the page sent last; nil: nothing yet
	turn  turn                        // whose turn it is to change the state
	of    atomic.Pointer[coreAt]      // the core that it was opened to amend; nil: none
	found atomic.Pointer[foundMarks]  // nil: not looked for yet
}

// coreAt is a core by its tank, place and day.
type coreAt struct {
	tank, station string
	date          layers.Date
}

// draftSight is what stays of a decoded photo when the decoded picture is dropped.
type draftSight struct {
	width, height int // pixels of the upright picture
	taken         layers.Date
	screen        []byte // JPEG
}

// add makes a draft of a photo's file, or finds the one of the same file.
func (d *drafts) add(content []byte) *draft {
	d.mu.Lock()
	defer d.mu.Unlock()
	if i := slices.IndexFunc(d.list, func(photo *draft) bool { return bytes.Equal(photo.content, content) }); i >= 0 {
		return d.use(i)
	}
	photo := newDraft(content)
	photo.turn.count = d.count.Add(1)
	d.list = append(d.list, photo)
	d.trim()
	if d.kept != nil {
		d.kept.KeepPhoto(photo.id, content)
	}
	return photo
}

func newDraft(content []byte) *draft {
	sum := sha256.Sum256(content)
	digits := hex.EncodeToString(sum[:])
	return &draft{id: digits[:32], sum: digits, content: content}
}

// trim forgets the drafts that are too many, or too large together, the oldest ones. The list must
// be locked.
func (d *drafts) trim() {
	size := 0
	for i, photo := range slices.Backward(d.list) {
		if size += len(photo.content); size > mostDraftBytes || len(d.list)-i > mostDrafts {
			for _, old := range d.list[:i+1] {
				d.forget(old.id)
			}
			d.list = slices.Delete(d.list, 0, i+1)
			return
		}
	}
}

// use makes a draft the most recent. The list must be locked.
func (d *drafts) use(i int) *draft {
	photo := d.list[i]
	d.list = append(slices.Delete(d.list, i, i+1), photo)
	return photo
}

// find is the draft of an id to work on: it becomes the most recent.
func (d *drafts) find(id string) (*draft, error) { return d.get(id, d.use) }

// look is the draft of an id to show: its place in the list stays.
func (d *drafts) look(id string) (*draft, error) {
	return d.get(id, func(i int) *draft { return d.list[i] })
}

func (d *drafts) get(id string, at func(i int) *draft) (*draft, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	i := slices.IndexFunc(d.list, func(photo *draft) bool { return photo.id == id })
	if i < 0 {
		return nil, d.goneOf(id)
	}
	return at(i), nil
}

// all lists the drafts, the most recent first.
func (d *drafts) all() []*draft {
	d.mu.Lock()
	defer d.mu.Unlock()
	list := slices.Clone(d.list)
	slices.Reverse(list)
	return list
}

// drop forgets a draft, but not how it ended.
func (d *drafts) drop(id string, end *goneError) {
	d.mu.Lock()
	defer d.mu.Unlock()
	i := slices.IndexFunc(d.list, func(photo *draft) bool { return photo.id == id })
	if i < 0 {
		return // it ended before
	}
	d.list = slices.Delete(d.list, i, i+1)
	d.ended = append(slices.DeleteFunc(d.ended, func(former *goneError) bool { return former.id == id }), end)
	d.ended = d.ended[max(0, len(d.ended)-mostEnded):]
	d.forget(id)
}

// errBusy: another photo is being decoded.
var errBusy = errors.New("another photo is being opened; this one comes next")

// open decodes a draft's photo if necessary, and drops decoded pictures of other drafts that take
// too much memory. It returns errBusy instead of waiting for another photo to be decoded. The
// draft's reading must be locked.
func (d *drafts) open(ctx context.Context, photo *draft, photos Reader) (Shot, error) {
	if photo.shot != nil {
		return photo.shot, nil
	}
	if !d.decode.TryLock() {
		return nil, errBusy
	}
	defer d.decode.Unlock()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	d.letGo(photo)
	shot, err := photos.Open(photo.content)
	if err != nil {
		return nil, site.WithKind(site.ErrInput, err)
	}
	if photo.sight.Load() == nil {
		screen, err := shot.Screen()
		if err != nil {
			return nil, err
		}
		s := &draftSight{taken: shot.Taken(), screen: screen}
		s.width, s.height = shot.Size()
		photo.sight.Store(s)
	}
	photo.shot = shot
	return shot, nil
}

// letGo drops decoded pictures of drafts other than except until the rest is small enough, the
// most recent last. A picture that is being read stays.
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
