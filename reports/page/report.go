// Package page writes HTML files to open in a browser or print: a tank's report, and the
// blank sheet for recording readings. It computes nothing that it shows.
//
// A page has no scripts and fetches nothing, so that it can be kept, mailed and opened
// anywhere. Texts from records are untrusted: html/template escapes them, and characters that
// could reorder a line are dropped from the whole page.
package page

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// Report is what a tank's report shows.
type Report struct {
	Record  reports.Record
	Photos  []Photo          // of the newest cores, where they were read from one; may be empty
	Strips  []reports.Strip  // of all photos, with their pictures; may be empty
	Changes []reports.Change // between the two newest photos of each station that has two
	Units   layers.Units
	Notice  string // at the very top, that the records are invented; empty: none
	Version string // of the program, for the footer
}

// Photo is a core's photo and its overlay, which shows what was read, as image files. An
// empty file is left out.
type Photo struct {
	Station                  string
	Date                     layers.Date
	Picture, Overlay         []byte
	PictureType, OverlayType string // image/jpeg or image/png
	Text                     string // what the overlay shows, for those who can't see it
}

//go:embed report.html report.css inks.css
var reportFiles embed.FS

//go:embed inks.css
var inks string

// Inks is a style sheet that colours the inks of package pen, on bright screens and on dark
// ones.
func Inks() string { return inks }

// functions are the functions that the report's template uses.
var functions = template.FuncMap{
	"pieces":        pieces,
	"headline":      words.Headline,
	"howClear":      words.HowClear,
	"seen":          words.Seen,
	"besides":       words.Besides,
	"mark":          words.Mark,
	"others":        words.OtherActions,
	"actions":       reports.Actions,
	"action":        words.Action,
	"draws":         words.Draws,
	"hundred":       words.Hundred,
	"nextReading":   words.NextReading,
	"event":         words.Event,
	"largestShares": func() string { return words.LargestShares },
}

// Write writes a tank's report as one HTML page. The same report gives the same bytes. Its
// errors are those of w, and one that names a photo that is neither JPEG nor PNG.
func Write(w io.Writer, r Report) error {
	v, err := newView(r)
	if err != nil {
		return err
	}
	text, err := template.New("report.html").Funcs(functions).ParseFS(reportFiles, "report.html", "inks.css", "report.css")
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	var page bytes.Buffer
	if err := text.ExecuteTemplate(&page, "report.html", v); err != nil {
		return err
	}
	_, err = w.Write(printable(page.Bytes()))
	return err
}
