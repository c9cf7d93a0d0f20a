package web

import (
	"bytes"
	"net/http"
)

// part is a part of a page, for a script to put into the page that is open.
func (s *server) part(name string, body any) ([]byte, error) {
	var text bytes.Buffer
	err := s.pages.ExecuteTemplate(&text, name, body)
	return text.Bytes(), err
}

// showPart answers a script with a part of a page.
func (s *server) showPart(w http.ResponseWriter, status int, name string, body any) error {
	text, err := s.part(name, body)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, err = w.Write(text)
	return err
}
