package page

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io"

	"panecore/layers"
	"panecore/reports"
)

// Report is what a tank's report shows.
type Report struct {
	Record  reports.Record
	Photos  []Photo // of the newest cores that were read from one; may be empty
	Units   layers.Units
	Notice  string // stands above all else: that the records are invented; empty: none
	Version string // of the program, for the foot
}

// Photo is a picture of a core and what was read from it drawn on it, both as image files.
// An empty one is left out.
type Photo struct {
	Station                  string
	Date                     layers.Date
	Picture, Overlay         []byte
	PictureType, OverlayType string // image/jpeg or image/png
	Text                     string // what the overlay shows, for those who don't see it
}

// The report's text and looks.
//
//go:embed report.html report.css inks.css
var reportFiles embed.FS

//go:embed inks.css
var inks string

// Inks is a style sheet that gives the inks of package figure their colours, on bright
// screens and on dark ones.
func Inks() string { return inks }

// Write writes a tank's report as one HTML page. The same report gives the same bytes.
// Its errors are those of w, and one that names the photo whose type is no image's.
func Write(w io.Writer, r Report) error {
	v, err := newView(r)
	if err != nil {
		return err
	}
	text, err := template.New("report.html").Funcs(template.FuncMap{"pieces": pieces}).ParseFS(reportFiles, "report.html", "inks.css", "report.css")
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
