package web

import (
	"fmt"
	"net/http"
	"slices"
	"sync"
	"testing"
)

// mostDrafts is how many photos are kept.
const mostDrafts = 8

// Who only looks at the list of photos changes nothing in which is put away next; who goes on
// with one does.
func TestDrafts_lookingIsNoUse(t *testing.T) {
	p := newPhotoServer(t)
	var at []string
	for i := range mostDrafts {
		at = append(at, p.sendPhoto(fmt.Sprintf("photo %dx1200", 1600+i)))
	}
	p.want(p.get("/photo"), http.StatusOK, at[0], "The 8 most recent are kept here, also when panecore is started again")
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
