// Package site is what the rooms of the local page share: what they need from the store, how a
// page, a part of one or an error is written, the message that the next page shows, the
// addresses and fingerprints of records, and the question about a core before it is saved.
// It knows none of the rooms.
package site

import (
	"bytes"
	"embed"
	"html/template"
	"io/fs"
	"net/http"

	"panecore/layers"
	"panecore/reports"
)

// Files are the templates and static files that all rooms use.
//
//go:embed templates static
var Files embed.FS

// Site is what the rooms of the page share. Once its templates are loaded it serves several
// callers at once.
type Site struct {
	Store  Store
	Today  func() layers.Date // the keeper's calendar day
	AsOf   func() layers.Date // the day that tanks are judged as of; zero: that of each one's newest record
	Units  layers.Units
	Notice string // shown on every page; empty: none

	templates *template.Template
	changing  chan struct{} // held by the handler that changes records
}

// Load reads the templates in the folder "templates" of each room's files.
func (s *Site) Load(rooms ...fs.FS) error {
	s.templates, s.changing = template.New("").Funcs(spelling(s.Units)), make(chan struct{}, 1)
	for _, files := range rooms {
		if _, err := s.templates.ParseFS(files, "templates/*.html"); err != nil {
			return err
		}
	}
	return nil
}

// Handler answers a request, or returns an error for the page to show and has written nothing.
type Handler func(w http.ResponseWriter, r *http.Request) error

// Changing gives a handler that changes records its turn, one at a time: what it looks at first
// must still stand when it writes.
func (s *Site) Changing(handle Handler) Handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		select {
		case s.changing <- struct{}{}:
			defer func() { <-s.changing }()
			return handle(w, r)
		case <-r.Context().Done():
			return r.Context().Err()
		}
	}
}

// Fail answers a script with an error as JSON, anyone else with a page.
func (s *Site) Fail(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil {
		return // nobody is waiting
	}
	if WantsJSON(r) {
		WriteJSON(w, StatusOf(err), map[string]string{"error": err.Error()})
		return
	}
	v := Frame{Title: "That did not work"}
	if StatusOf(err) == http.StatusNotFound {
		v.Title = "Page not found"
	}
	if failed := s.Show(w, r, StatusOf(err), "failure", v, err.Error()); failed != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
	}
}

// Frame is what every page has.
type Frame struct {
	Title  string
	Notice string // of the server
	Said   string // what was just done
	Change int64  // the change that undo would take back
	Last   string // its words; empty: none
	Proof  string // for forms
	Here   string // where undo returns to; empty: the overview
	Script string // the module to load; empty: none
	Style  string // the style sheets besides web.css, separated by spaces
	Tank   string // whose page it is; empty: nobody's
	Wide   bool
	Hosts  bool // it is shown where the page is served, whence other devices are let in
	Body   any
}

// Show writes a page whose body is the template of that name.
func (s *Site) Show(w http.ResponseWriter, r *http.Request, status int, name string, p Frame, body any) error {
	var err error
	if p.Change, p.Last, err = s.Store.Last(r.Context()); err != nil {
		return err
	}
	caller := CallerOf(r)
	p.Notice, p.Proof, p.Hosts, p.Body = s.Notice, caller.Proof, caller.Hosts, body
	if ReadOnly(r) { // the address of a form is not a page
		p.Here = r.URL.RequestURI()
	}
	if status != http.StatusNotFound {
		p.Tank = r.PathValue("id")
	}
	p.Said = said(w, r)
	return s.ShowPart(w, status, name, p)
}

// ShowPart writes a template alone, for a script to put into the open page.
func (s *Site) ShowPart(w http.ResponseWriter, status int, name string, body any) error {
	var text bytes.Buffer
	if err := s.templates.ExecuteTemplate(&text, name, body); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, err := w.Write(text.Bytes())
	return err
}

// Settings are those of the commands by default, with the logbook's own colours.
func (s *Site) Settings(r *http.Request) (reports.Settings, error) {
	settings := reports.DefaultSettings()
	settings.Units, settings.AsOf = s.Units, s.AsOf()
	var err error
	settings.Own, err = s.Store.Own(r.Context())
	return settings, err
}
