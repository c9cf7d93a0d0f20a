// Package reader is where a photo is read: it is sent, marked, read again whenever a mark changes,
// and saved as a core. Until then it is a draft.
package reader

import (
	"embed"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/web/site"
)

// Reader reads photos.
type Reader interface {
	// Open decodes a photo's file. Its error says what is wrong with the file.
	Open(content []byte) (Shot, error)
}

// Shot is a decoded photo. It is for one goroutine at a time.
type Shot interface {
	Size() (width, height int) // pixels of the upright picture
	Taken() layers.Date        // zero: not known
	Screen() ([]byte, error)   // the picture for the screen, a JPEG
	// Found looks for marks, on a photo of a place as far as that is known. A tag on the pane tells the place too: what it
	// says goes into the answer, with the marks that it gives. last finds the photo that a place was read from last.
	Found(of Place, last func(Place) (LastPhoto, bool, error)) (Found, error)
	Read(task Task) (Result, error)
	Kept() (site.KeptPhoto, error) // with the marks of the last reading
}

// Task is what to read in a photo.
type Task struct {
	Tank    layers.Tank // with its native colours
	Own     []palette.Prototype
	Core    layers.Core // station, date and notes
	Marks   layers.Marks
	Surface Cut   // where the keeper has the bed begin
	Cuts    []Cut // none: as the program reads them
}

// Cut is a layer as the keeper has it.
type Cut struct {
	BottomMM float64      // below the bed surface that the program reads
	Band     palette.Band // NoBand: as the program reads it
	Bend     layers.Bend  // of its lower edge
}

// Result is a reading.
type Result struct {
	reports.PhotoCore
	Core  layers.Core    // to be saved
	Strip [4][2]float64  // corners in pixels of the upright picture, clockwise from the upper left
	Edges [][][2]float64 // the bed surface and the lower edge of each layer, from left to right

	Shifts []float64 // mm by which their bends make the edges deeper; none: none is bent
}

// Files are the room's templates and static files.
//
//go:embed templates static
var Files embed.FS

// room is where photos are read.
type room struct {
	*site.Site
	photos Reader
	drafts *drafts
}

// Routes are the addresses where a photo is sent, marked, read and saved. What was begun before
// the server was started is there again if kept has it.
func Routes(on *site.Site, photos Reader, kept Drafts) map[string]site.Handler {
	s := &room{on, photos, restored(kept)}
	return map[string]site.Handler{
		"GET /photo":                    s.start,
		"POST /photo":                   s.take,
		"GET /photo/{draft}":            s.reader,
		"GET /photo/{draft}/screen.jpg": patient(s.screen),
		"GET /photo/{draft}/state":      patient(s.state),
		"GET /photo/{draft}/latest":     patient(s.latest),
		"GET /photo/{draft}/found":      patient(s.found),
		"POST /photo/{draft}/read":      patient(s.read),
		"POST /photo/{draft}/save":      patient(s.Changing(s.save)),
		"POST /photo/{draft}/native":    patient(s.Changing(s.native)),
		"POST /photo/{draft}/drop":      s.drop,

		"POST /tank/{id}/core/{station}/{date}/photo": s.reopen,
	}
}
