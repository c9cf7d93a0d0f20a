package web

import (
	"bytes"
	"net/http"

	"panecore/layers"
	"panecore/layers/tag"
	"panecore/reports/page"
	"panecore/reports/web/site"
)

// printablePolicy lets pages to print load nothing but themselves.
const printablePolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'; base-uri 'none'; form-action 'none'"

// showPrintable writes a page to print, which is one file by itself.
func showPrintable(w http.ResponseWriter, text []byte) error {
	w.Header().Set("Content-Security-Policy", printablePolicy)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, err := w.Write(text)
	return err
}

func (s *server) report(w http.ResponseWriter, r *http.Request) error {
	text, err := s.Store.Report(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	return showPrintable(w, text)
}

// sheet is the blank recording sheet with the rulers for photos, in the page's units. Whatever
// else is printed for the glass stands beside it under /sheet/.
func (s *server) sheet(w http.ResponseWriter, _ *http.Request) error {
	var text bytes.Buffer
	if err := page.WriteSheet(&text, s.Units); err != nil {
		return err
	}
	return showPrintable(w, text.Bytes())
}

// tag is the glass tag of a place on a tank, in the size that the query names or the usual one.
func (s *server) tag(w http.ResponseWriter, r *http.Request) error {
	t := tag.Tag{Tank: r.PathValue("id"), Station: r.FormValue("station"), SizeMM: tag.UsualSize}
	tank, err := s.Store.Tank(r.Context(), t.Tank)
	if err != nil {
		return err
	}
	if t.Station == "" {
		t.Station = tank.UsualStation()
	}
	if size := r.FormValue("size"); size != "" {
		if t.SizeMM, err = layers.ParseLength(size); err != nil {
			return site.WithKind(site.ErrInput, err)
		}
	}
	var text bytes.Buffer
	if err := page.WriteTags(&text, []tag.Tag{t}, 100, s.Units); err != nil {
		return site.WithKind(site.ErrInput, err)
	}
	return showPrintable(w, text.Bytes())
}
