package web

import (
	"bytes"
	"embed"
	"errors"
	"html/template"
	"io"
	"io/fs"
	"net/http"
	"sync"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/page"
)

// Options are what the page stands on.
type Options struct {
	Store  Store
	Photos Photos
	Today  func() layers.Date // the keeper's calendar day
	AsOf   func() layers.Date // the day that tanks are judged as of; zero: each by its newest record
	Units  layers.Units
	Key    string   // who knows it may come in; random
	Hosts  []string // host:port of each address that the server answers to
	Notice string   // stands on every page; empty: none
}

//go:embed templates static
var files embed.FS

// server is the page.
type server struct {
	Options
	guard    *guard
	pages    *template.Template
	drafts   *drafts
	amending sync.Mutex // held from looking at a record to writing over it
}

// New makes the page's handler. It serves several callers at once.
func New(o Options) (http.Handler, error) {
	pages, err := template.New("").Funcs(spelling(o.Units)).ParseFS(files, "templates/*.html")
	if err != nil {
		return nil, err
	}
	static, err := fs.Sub(files, "static")
	if err != nil {
		return nil, err
	}
	s := &server{Options: o, guard: &guard{key: o.Key, hosts: o.Hosts}, pages: pages, drafts: newDrafts()}
	mux := http.NewServeMux()
	mux.Handle("GET /static/", http.StripPrefix("/static/", http.FileServerFS(static)))
	mux.HandleFunc("GET /static/inks.css", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/css; charset=utf-8")
		io.WriteString(w, page.Inks())
	})
	mux.HandleFunc("GET /favicon.ico", func(w http.ResponseWriter, _ *http.Request) { // asked for by who was not let in before
		w.WriteHeader(http.StatusNoContent)
	})
	for pattern, handle := range s.routes() {
		mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
			if err := handle(w, r); err != nil {
				s.fail(w, r, err)
			}
		})
	}
	return s.guard.admit(mux), nil
}

// handler answers a request, or gives the error to be told on the page. It has written
// nothing where its error is not nil.
type handler func(w http.ResponseWriter, r *http.Request) error

// The errors that have a status of their own; all else that the store says is a failure.
var (
	ErrMissing = errors.New("there is none")                // what was asked for
	ErrTaken   = errors.New("there is one already")         // what was to be filed
	ErrInput   = errors.New("what was entered can't stand") // by what was typed
)

func statusOf(err error) int {
	var tooLarge *http.MaxBytesError
	switch {
	case errors.Is(err, ErrMissing):
		return http.StatusNotFound
	case errors.Is(err, ErrTaken):
		return http.StatusConflict
	case errors.Is(err, ErrInput):
		return http.StatusUnprocessableEntity
	case errors.As(err, &tooLarge):
		return http.StatusRequestEntityTooLarge
	}
	return http.StatusInternalServerError
}

// A faultError is an error whose words stand by themselves, of a kind.
type faultError struct {
	error
	kind error
}

func (e faultError) Unwrap() []error { return []error{e.error, e.kind} }

// Fault is an error of a kind (ErrMissing, ErrTaken or ErrInput) in the words of err.
func Fault(kind, err error) error { return faultError{err, kind} }

// fail tells an error: on a page, or as JSON to a script.
func (s *server) fail(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil {
		return // nobody is there any more
	}
	if wantsJSON(r) {
		writeJSON(w, statusOf(err), map[string]string{"error": err.Error()})
		return
	}
	v := frame{Title: "That did not go"}
	if statusOf(err) == http.StatusNotFound {
		v.Title = "There is no such page"
	}
	if failed := s.show(w, r, statusOf(err), "failure", v, err.Error()); failed != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
	}
}

// frame is what every page has.
type frame struct {
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

// show writes a page whose body is the template of that name.
func (s *server) show(w http.ResponseWriter, r *http.Request, status int, name string, p frame, body any) error {
	var err error
	if p.Change, p.Last, err = s.Store.Last(r.Context()); err != nil {
		return err
	}
	p.Notice, p.Proof, p.Body = s.Notice, s.guard.proof(), body
	if readOnly(r) { // a form's address is no page
		p.Here = r.URL.RequestURI()
	}
	if status != http.StatusNotFound {
		p.Tank = r.PathValue("id")
	}
	p.Said = said(w, r)
	var text bytes.Buffer
	if err := s.pages.ExecuteTemplate(&text, name, p); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, err = w.Write(text.Bytes())
	return err
}

// settings make findings as the commands do by default.
func (s *server) settings(r *http.Request) (reports.Settings, error) {
	settings := reports.DefaultSettings()
	settings.Units, settings.AsOf = s.Units, s.AsOf()
	var err error
	settings.Own, err = s.Store.Own(r.Context())
	return settings, err
}
