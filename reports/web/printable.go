package web

import (
	"bytes"
	"net/http"

	"panecore/reports/page"
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
