package web

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// Text goes compressed to who takes it, and is the same to the letter; pictures and archives,
// parts of files and small answers go as they are.
func TestServer_compresses(t *testing.T) {
	p := newPhotoServer(t)
	photo := p.sendPhoto(fakePhoto)
	for _, c := range []struct {
		path, accepted, asked string
		zipped, varies        bool
	}{
		{"/", "gzip, deflate, br", "", true, true},
		{"/", "", "", false, true},
		{"/", "gzip;q=0, *", "", false, true},
		{"/tank/wheel-room", "*", "", true, true},
		{"/tank/wheel-room/report", "gzip", "", false, true}, // a few words
		{"/sheet", "gzip", "", true, true},
		{"/static/web.css", "gzip", "", true, true},
		{"/static/photo.js", "gzip", "", true, true},
		{"/static/photo.js", "gzip", "bytes=10-2000", false, true},
		{"/static/part.js", "gzip", "", false, true}, // small
		{"/static/inks.css", "br", "", false, true},
		{"/keep/export", "gzip", "", true, true},
		{"/keep/backup", "gzip", "", false, false},
		{photo + "/screen.jpg", "gzip", "", false, false},
		{photo + "/state", "gzip", "", false, true}, // small
		{"/keep", "GZIP", "", true, true},
		{"/favicon.ico", "gzip", "", false, false},
		{"/tank/none", "gzip", "", true, true},
	} {
		ask := func(accepted string) *httptest.ResponseRecorder {
			r := httptest.NewRequest(http.MethodGet, c.path, nil)
			if accepted != "" {
				r.Header.Set("Accept-Encoding", accepted)
			}
			if c.asked != "" {
				r.Header.Set("Range", c.asked)
			}
			return p.send(r)
		}
		got, plain := ask(c.accepted), ask("identity")
		zipped := got.Header().Get("Content-Encoding") == "gzip"
		if zipped != c.zipped || got.Code != plain.Code || (got.Header().Get("Vary") == "Accept-Encoding") != c.varies {
			t.Errorf("%s to who takes %q: status %d, %v", c.path, c.accepted, got.Code, got.Header())
			continue
		}
		body := got.Body.Bytes()
		if zipped {
			zip, err := gzip.NewReader(got.Body)
			if err != nil {
				t.Fatal(err)
			}
			if got.Header().Get("Content-Length") != "" || len(body) > plain.Body.Len() {
				t.Errorf("%s: %d bytes for %d, said to be %q", c.path, len(body), plain.Body.Len(), got.Header().Get("Content-Length"))
			}
			if body, err = io.ReadAll(zip); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(body, plain.Body.Bytes()) {
			t.Errorf("%s to who takes %q: another answer than uncompressed", c.path, c.accepted)
		}
	}
}

// An answer that is cut short does not look whole when it was compressed.
func TestCompressed_cutShort(t *testing.T) {
	page := compressed(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/json")
		io.WriteString(w, strings.Repeat("half of it ", 1000))
		panic(http.ErrAbortHandler)
	}))
	r := httptest.NewRequest(http.MethodGet, "/", nil)
	r.Header.Set("Accept-Encoding", "gzip")
	w := httptest.NewRecorder()
	func() {
		defer func() {
			if recover() != http.ErrAbortHandler {
				t.Error("the server is not told")
			}
		}()
		page.ServeHTTP(w, r)
	}()
	zip, err := gzip.NewReader(w.Body)
	if err == nil {
		_, err = io.ReadAll(zip)
	}
	if err == nil {
		t.Error("half an answer reads as a whole one")
	}
}

// Whatever a caller says that it takes, gzip that is refused by name is not sent, and what
// is not named is not taken.
func FuzzTakesGzip(f *testing.F) {
	for _, accepted := range []string{"gzip", "gzip;q=0", "*;q=0, gzip", "gzip;q=0, *", "br;q=1.0, GZIP ;q=0.8", ",;=;q", "identity"} {
		f.Add(accepted)
	}
	f.Fuzz(func(t *testing.T, accepted string) {
		takes := takesGzip([]string{accepted})
		if takes && !strings.Contains(strings.ToLower(accepted), "gzip") && !strings.Contains(accepted, "*") {
			t.Errorf("%q is taken for gzip", accepted)
		}
		if takesGzip([]string{accepted, "gzip;q=0"}) {
			t.Errorf("gzip is sent in spite of q=0 behind %q", accepted)
		}
		if !takesGzip([]string{accepted, "gzip"}) {
			t.Errorf("gzip is not sent to who takes it behind %q", accepted)
		}
	})
}
