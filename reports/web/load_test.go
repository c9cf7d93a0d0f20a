package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"sync"
	"testing"
)

// What two hundred ask for at once is what one gets who asks alone, to the letter.
func TestServer_atOnceAsAlone(t *testing.T) {
	p := newPhotoServer(t)
	photo := p.sendPhoto("photo 1600x1200 2026-05-01 of a bed")
	asks := []func() *httptest.ResponseRecorder{
		func() *httptest.ResponseRecorder {
			return p.post("/tank/wheel-room/preview", url.Values{
				"station": {"front"}, "date": {"2026-10-30"}, "thickness": {"12mm", "40mm"}, "hex": {"#8b5e3c", "#d9cba6"},
			})
		},
	}
	for _, path := range []string{
		"/", "/tank/wheel-room", "/tank/wheel-room/edit", "/tank/wheel-room/read", "/tank/wheel-room/rehearse?share=20", "/tank/wheel-room/report", "/sheet",
		"/tank/none", "/keep", "/keep/export", "/static/web.css", "/static/inks.css", "/photo", photo, photo + "/state", photo + "/screen.jpg",
	} {
		asks = append(asks, func() *httptest.ResponseRecorder { return p.get(path) })
	}
	alone := make([]*httptest.ResponseRecorder, len(asks))
	for i, ask := range asks {
		if alone[i] = ask(); alone[i].Code >= http.StatusInternalServerError {
			t.Fatalf("request %d: status %d: %s", i, alone[i].Code, alone[i].Body)
		}
	}
	var all sync.WaitGroup
	count := 200
	if testing.Short() {
		count = 4 * len(asks)
	}
	for n := range count {
		all.Go(func() {
			i := n % len(asks)
			if got := asks[i](); got.Code != alone[i].Code || got.Body.String() != alone[i].Body.String() {
				t.Errorf("request %d: status %d and %d bytes, alone %d and %d", i, got.Code, got.Body.Len(), alone[i].Code, alone[i].Body.Len())
			}
		})
	}
	all.Wait()
}
