package web

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"sync"
	"testing"
)

// No more drafts and bytes are kept than there may be, the latest used ones.
func TestDrafts_theLatestStay(t *testing.T) {
	d := newDrafts()
	var ids []string
	for i := range mostDrafts {
		ids = append(ids, d.add(fmt.Appendf(nil, "photo %d", i)).id)
	}
	if _, err := d.find(ids[0]); err != nil { // and so becomes the latest
		t.Fatal(err)
	}
	d.add([]byte("one more"))
	if _, err := d.find(ids[1]); !errors.Is(err, ErrMissing) {
		t.Errorf("the one that was not used for longest: %v, want it gone", err)
	}
	if _, err := d.find(ids[0]); err != nil || len(d.all()) != mostDrafts {
		t.Errorf("%d are kept, the one just used: %v; want %d and it", len(d.all()), err, mostDrafts)
	}

	d = newDrafts()
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

// Who only looks at the list of photos changes nothing in which is put away next; who goes on
// with one does.
func TestDrafts_lookingIsNoUse(t *testing.T) {
	p := newPhotoServer(t)
	var at []string
	for i := range mostDrafts {
		at = append(at, p.sendPhoto(fmt.Sprintf("photo %dx1200", 1600+i)))
	}
	p.want(p.get("/photo"), http.StatusOK, at[0], "The 8 used last are kept here")
	for _, address := range slices.Backward(at) { // as the list shows them
		p.want(p.get(address+"/screen.jpg"), http.StatusOK)
		p.want(p.get(address), http.StatusOK)
	}
	p.want(p.get(at[1]+"/state"), http.StatusOK)
	p.sendPhoto("photo 10x10 one more")
	p.sendPhoto("photo 10x10 and one more")
	for i, want := range map[int]int{0: http.StatusNotFound, 1: http.StatusOK, 2: http.StatusNotFound, 3: http.StatusOK, mostDrafts - 1: http.StatusOK} {
		if got := p.get(at[i]).Code; got != want {
			t.Errorf("photo %d: status %d, want %d", i, got, want)
		}
	}
}

// The same file is the same draft, whatever was told of it.
func TestDrafts_sameFile(t *testing.T) {
	d := newDrafts()
	one := d.add([]byte("photo"))
	one.keep(fakeRequest())
	if again := d.add([]byte("photo")); again != one || len(d.all()) != 1 {
		t.Error("the same file became another draft")
	}
	if d.add([]byte("another")).id == one.id {
		t.Error("two files have one id")
	}
}

// Decoded pictures are let go when another needs the room, and never while somebody reads.
func TestDrafts_picturesAreLetGo(t *testing.T) {
	d, photos := newDrafts(), &fakePhotos{}
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
	if large.seen() == nil || len(large.seen().screen) == 0 {
		t.Error("what was seen of it went with it")
	}
}

// Many pages at once, of the same photos and of others, with photos put away and pushed
// out meanwhile: each gets its own answer or is told that its photo is gone.
func TestDrafts_manyAtOnce(t *testing.T) {
	p := newPhotoServer(t)
	const pages, rounds = 16, 6
	var all sync.WaitGroup
	for page := range pages {
		all.Go(func() {
			content := fmt.Appendf(nil, "photo %dx1200 2026-05-01", 1600+page%(mostDrafts+4)) // some share one, and there are too many
			for round := range rounds {
				w := p.postBytes("/photo", "application/octet-stream", content)
				if w.Code != http.StatusOK && w.Code != http.StatusAccepted {
					t.Errorf("sent: status %d: %s", w.Code, w.Body)
					return
				}
				at := answerOf[struct{ Address string }](p, w.Body.Bytes()).Address
				q := fakeRequest()
				q.Station, q.Picks.Strip[0] = fmt.Sprint("place ", page), float64(round)
				for _, ask := range []struct {
					path string
					body any
				}{{"/read", q}, {"/state", nil}, {"/read", q}, {"/screen.jpg", nil}, {"/save", saveRequest{readRequest: q, Replace: true}}} {
					if ask.body == nil {
						w = p.get(at + ask.path)
					} else {
						w = p.postJSON(at+ask.path, ask.body)
					}
					switch w.Code {
					case http.StatusOK, http.StatusAccepted, http.StatusNotFound, http.StatusConflict:
					default:
						t.Errorf("%s: status %d: %s", ask.path, w.Code, w.Body)
					}
				}
				if round%2 == 0 {
					p.post(at+"/drop", nil)
				}
				p.get("/photo")
			}
		})
	}
	all.Wait()
}
