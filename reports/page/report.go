package page

import (
	"bytes"
	_ "embed"
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

var (
	//go:embed report.html
	reportHTML string
	//go:embed report.css
	reportCSS string

	reportTemplate = template.Must(template.New("report").Parse(reportHTML))
)

// Write writes a tank's report as one HTML page. The same report gives the same bytes.
// Its errors are those of w, and one that names the photo whose type is no image's.
func Write(w io.Writer, r Report) error {
	v, err := newView(r)
	if err != nil {
		return err
	}
	var page bytes.Buffer
	if err := reportTemplate.Execute(&page, v); err != nil {
		return err
	}
	_, err = w.Write(printable(page.Bytes()))
	return err
}
