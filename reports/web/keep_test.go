package web

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"reflect"
	"testing"

	"panecore/layers"
	"panecore/reports/web/site"
)

func TestKeep_downloads(t *testing.T) {
	p := newTestServer(t)
	p.want(p.get("/keep"), http.StatusOK, `href="/keep/export"`, `href="/keep/backup"`, "panecore import FILE")
	export := p.get("/keep/export")
	p.want(export, http.StatusOK)
	if got := export.Header().Get("Content-Disposition"); got != `attachment; filename="panecore-2026-11-01.json"` {
		t.Errorf("disposition %q", got)
	}
	if tanks, err := layers.Decode(export.Body, p.store.today); err != nil || !reflect.DeepEqual(tanks, p.store.tanks) {
		t.Errorf("the document does not read back to the same (%v)", err)
	}
	backup := p.get("/keep/backup")
	p.want(backup, http.StatusOK, "a copy of the logbook")
	if got := backup.Header().Get("Content-Disposition"); got != `attachment; filename="panecore-2026-11-01.zip"` {
		t.Errorf("disposition %q", got)
	}
}

// A download that fails before its first byte has an error's page; one that fails later is
// broken off, so that no browser takes it for whole.
func TestKeep_failures(t *testing.T) {
	s := &server{Site: &site.Site{Today: func() layers.Date { return 20000 }}}
	fails := func(begin string) (w *httptest.ResponseRecorder, broken any, err error) {
		w = httptest.NewRecorder()
		defer func() { broken = recover() }()
		err = s.download("json", "application/json", func(_ context.Context, w io.Writer) error {
			if begin != "" {
				io.WriteString(w, begin)
			}
			return errors.New("the disk is gone")
		})(w, httptest.NewRequest(http.MethodGet, "/keep/export", nil))
		return w, nil, err
	}
	if w, broken, err := fails(""); err == nil || broken != nil || len(w.Header()) > 0 {
		t.Errorf("at once: %v, %v, head %v", err, broken, w.Header())
	}
	if _, broken, _ := fails("{"); broken != http.ErrAbortHandler {
		t.Errorf("later: %v, want the answer broken off", broken)
	}
}
