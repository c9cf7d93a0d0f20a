package reader

import (
	"errors"
	"fmt"
	"testing"

	"panecore/layers"
	"panecore/reports/web/site"
)

// No more drafts and bytes are kept than there may be, the latest used ones.
func TestDrafts_theLatestStay(t *testing.T) {
	d := new(drafts)
	var ids []string
	for i := range mostDrafts {
		ids = append(ids, d.add(fmt.Appendf(nil, "photo %d", i)).id)
	}
	if _, err := d.find(ids[0]); err != nil { // and so becomes the latest
		t.Fatal(err)
	}
	d.add([]byte("one more"))
	if _, err := d.find(ids[1]); !errors.Is(err, site.ErrMissing) {
		t.Errorf("the one that was not used for longest: %v, want it gone", err)
	}
	if _, err := d.find(ids[0]); err != nil || len(d.all()) != mostDrafts {
		t.Errorf("%d are kept, the one just used: %v; want %d and it", len(d.all()), err, mostDrafts)
	}

	d = new(drafts)
	for range 3 {
		d.list = append(d.list, &draft{content: make([]byte, mostDraftBytes/3-100)})
	}
	if one := d.add([]byte("a little")); len(d.all()) != 4 || d.all()[0] != one {
		t.Errorf("%d are kept, want four", len(d.all()))
	}
	d.list[0].content = make([]byte, mostDraftBytes/3+200)
	if one := d.add([]byte("a little more")); len(d.all()) != 4 || d.all()[0] != one {
		t.Errorf("%d are kept, want the oldest to have made room", len(d.all()))
	}
}

// The same file is the same draft, whatever was told of it.
func TestDrafts_sameFile(t *testing.T) {
	d := new(drafts)
	one := d.add([]byte("photo"))
	one.state.Store(&readRequest{Tank: "sill-tray"})
	if again := d.add([]byte("photo")); again != one || len(d.all()) != 1 {
		t.Error("the same file became another draft")
	}
	if d.add([]byte("another")).id == one.id {
		t.Error("two files have one id")
	}
}

// Decoded pictures are let go when another needs the room, and never while somebody reads.
func TestDrafts_picturesAreLetGo(t *testing.T) {
	d, photos := new(drafts), sizedPhotos{}
	open := func(content string) *draft {
		one := d.add([]byte(content))
		one.reading.Lock()
		defer one.reading.Unlock()
		if _, err := d.open(t.Context(), one, photos); err != nil {
			t.Fatal(err)
		}
		return one
	}
	small := open("photo 1000x1000")
	large := open(fmt.Sprintf("photo %dx%d", mostDecoded/1000, 999)) // fits in by itself
	if small.shot == nil {
		t.Error("a small picture was let go though there was room")
	}
	large.reading.Lock()
	open("photo 2000x2000")
	if large.shot == nil {
		t.Error("a picture was let go while somebody read in it")
	}
	large.reading.Unlock()
	open("photo 2001x2000")
	if large.shot != nil || small.shot == nil {
		t.Errorf("the large picture is kept: %v, the small one: %v; want the small one only", large.shot != nil, small.shot != nil)
	}
	if large.sight.Load() == nil || len(large.sight.Load().screen) == 0 {
		t.Error("what was seen of it went with it")
	}
}

// sizedPhotos opens texts such as "photo 1600x1200", of which nothing can be read.
type sizedPhotos struct{}

type sizedShot struct{ width, height int }

func (sizedPhotos) Open(content []byte) (Shot, error) {
	var s sizedShot
	_, err := fmt.Sscanf(string(content), "photo %dx%d", &s.width, &s.height)
	return s, err
}

func (s sizedShot) Size() (width, height int) { return s.width, s.height }
func (s sizedShot) Taken() layers.Date        { return 0 }
func (s sizedShot) Screen() ([]byte, error)   { return []byte("screen"), nil }
func (s sizedShot) Found(Place, func(Place) (LastPhoto, bool, error)) (Found, error) {
	return Found{}, errors.New("nothing to find")
}
func (s sizedShot) Read(Task) (Result, error) { return Result{}, errors.New("nothing to read") }
func (s sizedShot) Kept() (site.KeptPhoto, error) {
	return site.KeptPhoto{}, errors.New("nothing to keep")
}
