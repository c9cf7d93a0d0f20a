package web

import (
	"context"
	"io"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// Store keeps the records. Its errors are told on the page as they stand; one that wraps
// ErrMissing or ErrTaken has a page of its own.
type Store interface {
	Tanks(ctx context.Context) ([]layers.Tank, error)
	Tank(ctx context.Context, id string) (layers.Tank, error)
	Own(ctx context.Context) (func(tank string) []palette.Prototype, error)
	AddTank(ctx context.Context, tank layers.Tank) error
	EditTank(ctx context.Context, tank layers.Tank) error
	AddCore(ctx context.Context, tank string, core layers.Core) error
	AmendCore(ctx context.Context, tank, station string, date layers.Date, core layers.Core) error
	RemoveCore(ctx context.Context, tank, station string, date layers.Date) error
	FileCore(ctx context.Context, tank string, core layers.Core, photo KeptPhoto, replace bool) error
	LastPicks(ctx context.Context, tank, station string) (picks []byte, found bool, err error)
	PicksOf(ctx context.Context, tank, station string, date layers.Date) (picks []byte, found bool, err error)
	AddWater(ctx context.Context, tank string, test layers.WaterTest) error
	RemoveWater(ctx context.Context, tank string, date layers.Date, clock string) error
	AddEvent(ctx context.Context, tank string, event layers.Event) error
	RemoveEvent(ctx context.Context, tank string, event layers.Event) error
	Undo(ctx context.Context, change int64) (what string, err error) // only while that change is the last one
	Last(ctx context.Context) (change int64, what string, err error) // the change that Undo would take back; empty: none
	Report(ctx context.Context, tank string) ([]byte, error)         // the printable page
	Export(ctx context.Context, w io.Writer) error                   // a logbook document
	Backup(ctx context.Context, w io.Writer) error                   // a copy of the logbook and its photos, a ZIP; the first byte comes when it is whole
}

// KeptPhoto is a photo's file to be kept with its core.
type KeptPhoto struct {
	Kind          string
	Width, Height int
	Picks         []byte // JSON
	Preview       []byte // a small JPEG
	Content       []byte
}

// Photos reads photos.
type Photos interface {
	// Open decodes a photo's file. Its error says what is wrong with it.
	Open(content []byte) (Shot, error)
}

// Shot is a decoded photo. It is for one goroutine at a time.
type Shot interface {
	Size() (width, height int) // pixels of the upright picture
	Taken() layers.Date        // zero: it doesn't say
	Screen() ([]byte, error)   // the picture for the screen, a JPEG
	Read(task Task) (Result, error)
	Kept() (KeptPhoto, error) // of the last reading
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
