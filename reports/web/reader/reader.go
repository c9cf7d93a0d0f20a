package reader

import (
	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/web/site"
)

// Reader reads photos.
type Reader interface {
	// Open decodes a photo's file. Its error says what is wrong with it.
	Open(content []byte) (Shot, error)
}

// Shot is a decoded photo. It is for one goroutine at a time.
type Shot interface {
	Size() (width, height int) // pixels of the upright picture
	Taken() layers.Date        // zero: it doesn't say
	Screen() ([]byte, error)   // the picture for the screen, a JPEG
	Read(task Task) (Result, error)
	Kept() (site.KeptPhoto, error) // of the last reading
}

// Task is what to read in a photo.
type Task struct {
	Tank    layers.Tank // whose substrates are known
	Own     []palette.Prototype
	Core    layers.Core // station, date, and what was noted besides
	Marks   layers.Marks
	Surface float64 // mm, see photo.View
	Cuts    []Cut   // none: as the program reads it
}

// Cut is a layer as the keeper has it.
type Cut struct {
	BottomMM float64
	Band     palette.Band // NoBand: as the program reads it
}

// Result is what a photo shows.
type Result struct {
	reports.PhotoCore
	Core  layers.Core    // to be filed
	Strip [4][2]float64  // corners in pixels of the upright picture, from the upper left clockwise
	Edges [][][2]float64 // the bed surface and the lower edge of each layer, from left to right
}
