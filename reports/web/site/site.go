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

// Site is what the rooms of the page stand on. Its templates are to be loaded first; then it
// serves several callers at once.
type Site struct {
	Store  Store
	Today  func() layers.Date // the keeper's calendar day
	AsOf   func() layers.Date // the day that tanks are judged as of; zero: each by its newest record
	Units  layers.Units
	Notice string // stands on every page; empty: none
	Proof  string // what forms carry to show that they are ours

	templates *template.Template
}

// Load reads the templates that stand in the folder "templates" of each of the rooms' files.
func (s *Site) Load(rooms ...fs.FS) error {
	s.templates = template.New("").Funcs(spelling(s.Units))
	for _, files := range rooms {
		if _, err := s.templates.ParseFS(files, "templates/*.html"); err != nil {
			return err
		}
	}
	return nil
}

// Handler answers a request, or gives the error to be told on the page. It has written
// nothing where its error is not nil.
type Handler func(w http.ResponseWriter, r *http.Request) error

// Fail tells an error: on a page, or as JSON to a script.
func (s *Site) Fail(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil {
		return // nobody is there any more
	}
	if WantsJSON(r) {
		WriteJSON(w, StatusOf(err), map[string]string{"error": err.Error()})
		return
	}
	v := Frame{Title: "That did not go"}
	if StatusOf(err) == http.StatusNotFound {
		v.Title = "There is no such page"
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
	Last   string // its words; empty: there is none
	Proof  string // for forms
	Here   string // where undo comes back to; set where the page has an address of its own
	Script string // the module to load; empty: none
	Style  string // the style sheets beside web.css, parted by blanks
	Tank   string // whose page it is; empty: nobody's
	Wide   bool
	Body   any
}

// Show writes a page whose body is the template of that name.
func (s *Site) Show(w http.ResponseWriter, r *http.Request, status int, name string, p Frame, body any) error {
	var err error
	if p.Change, p.Last, err = s.Store.Last(r.Context()); err != nil {
		return err
	}
	p.Notice, p.Proof, p.Body = s.Notice, s.Proof, body
	if ReadOnly(r) { // a form's address is no page
		p.Here = r.URL.RequestURI()
	}
	if status != http.StatusNotFound {
		p.Tank = r.PathValue("id")
	}
	p.Said = said(w, r)
	return s.ShowPart(w, status, name, p)
}

// ShowPart writes a template by itself, as a script puts it into the page that is open.
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

// Settings make findings as the commands do by default.
func (s *Site) Settings(r *http.Request) (reports.Settings, error) {
	settings := reports.DefaultSettings()
	settings.Units, settings.AsOf = s.Units, s.AsOf()
	var err error
	settings.Own, err = s.Store.Own(r.Context())
	return settings, err
}
