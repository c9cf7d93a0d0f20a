// Package web is the local page: the whole job in a browser on the keeper's own machine.
// It lets callers in, shows the findings and pictures of other packages, and leaves the rest to
// its rooms: forms, where a keeper types, and reader, where a photo is read. Both use site,
// which holds what all pages share. What a keeper enters goes to the store; these packages
// compute nothing and open no file.
//
// guard.go decides who may use it: a caller must know the server's key, or be a paired device, name
// the server by one of its own addresses, and, to change anything, come from one of its own pages.
package web

import (
	"embed"
	"io"
	"io/fs"
	"net/http"

	"panecore/layers"
	"panecore/reports/page"
	"panecore/reports/web/forms"
	"panecore/reports/web/reader"
	"panecore/reports/web/site"
)

// Options are what the page needs.
type Options struct {
	Store  site.Store
	Photos reader.Reader
	Drafts reader.Drafts      // where photos that were not saved outlast the server; nil: nowhere
	Today  func() layers.Date // the keeper's calendar day
	AsOf   func() layers.Date // the day that tanks are judged as of; zero: that of each one's newest record
	Units  layers.Units
	Key    string   // callers who know it may come in; random
	Hosts  []string // host:port of each address that the server answers to
	Notice string   // shown on every page; empty: none

	Devices   Devices // other devices that may come in; nil: only this machine can reach the page
	Encrypted bool    // the page is served over TLS
}

//go:embed templates static
var files embed.FS

// server is the page.
type server struct {
	*site.Site
	forms     *forms.Room
	judged    *judged
	devices   Devices
	encrypted bool
}

// Page is the handler of the page.
type Page struct {
	http.Handler
	server *server
}

// New makes the page's handler. It serves several callers at once.
func New(o Options) (*Page, error) {
	guard := &guard{key: o.Key, hosts: o.Hosts, devices: o.Devices, encrypted: o.Encrypted}
	s := &server{
		Site:   &site.Site{Store: o.Store, Today: o.Today, AsOf: o.AsOf, Units: o.Units, Notice: o.Notice},
		judged: newJudged(), devices: o.Devices, encrypted: o.Encrypted,
	}
	s.forms = forms.New(s.Site, s.showTank)
	rooms := []fs.FS{files, site.Files, forms.Files, reader.Files}
	if err := s.Load(rooms...); err != nil {
		return nil, err
	}
	mux := http.NewServeMux()
	mux.Handle("GET /static/", http.StripPrefix("/static/", http.FileServerFS(layered(rooms))))
	mux.HandleFunc("GET /static/inks.css", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/css; charset=utf-8")
		io.WriteString(w, page.Inks())
	})
	mux.HandleFunc("GET /favicon.ico", func(w http.ResponseWriter, _ *http.Request) { // browsers ask for it on the page that denies access
		w.WriteHeader(http.StatusNoContent)
	})
	for _, routes := range []map[string]site.Handler{s.routes(), s.deviceRoutes(), s.forms.Routes(), reader.Routes(s.Site, o.Photos, o.Drafts)} {
		for pattern, handle := range routes {
			mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
				if err := handle(w, r); err != nil {
					s.Fail(w, r, err)
				}
			})
		}
	}
	return &Page{compressed(guard.admit(mux)), s}, nil
}

// routes are the addresses of what is shown, copied or undone.
func (s *server) routes() map[string]site.Handler {
	return map[string]site.Handler{
		"GET /{$}":                  s.overview,
		"POST /undo":                s.Changing(s.undo),
		"GET /tank/{id}":            s.tank,
		"GET /tank/{id}/report":     s.report,
		"GET /tank/{id}/tag":        s.tag,
		"GET /tank/{id}/change.svg": s.change,
		"GET /tank/{id}/core/{station}/{date}/drawn.jpg": s.photoOf(s.Store.Drawn),
		"GET /tank/{id}/core/{station}/{date}/strip.jpg": s.photoOf(s.Store.Strip),

		"GET /sheet":       s.sheet,
		"GET /keep":        s.keep,
		"GET /keep/export": s.download("json", "application/json", s.Store.Export),
		"GET /keep/backup": s.download("zip", "application/zip", s.Store.Backup),
	}
}

// layered joins the rooms' folders "static" into one.
type layered []fs.FS

func (l layered) Open(name string) (file fs.File, err error) {
	for _, files := range l {
		if file, err = files.Open("static/" + name); err == nil {
			break
		}
	}
	return file, err
}
