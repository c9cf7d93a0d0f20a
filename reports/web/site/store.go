package site

import (
	"context"
	"io"

	"panecore/layers"
	"panecore/palette"
)

// Store keeps the records. The page shows its errors as they are; one that wraps ErrMissing,
// ErrTaken or ErrInput sets the status.
type Store interface {
	Album
	Tanks(ctx context.Context) ([]layers.Tank, error)
	Tank(ctx context.Context, id string) (layers.Tank, error)
	Revisions(ctx context.Context) (map[string]int64, error) // of every tank, by id: while one is the same, so is what Tank and Own give of it
	Own(ctx context.Context) (func(tank string) []palette.Prototype, error)
	AddTank(ctx context.Context, tank layers.Tank) error
	EditTank(ctx context.Context, tank layers.Tank) error
	AddCore(ctx context.Context, tank string, core layers.Core) error
	AmendCore(ctx context.Context, tank, station string, date layers.Date, core layers.Core) error
	RemoveCore(ctx context.Context, tank, station string, date layers.Date) error
	FileCore(ctx context.Context, tank string, core layers.Core, photo KeptPhoto, replace bool) error
	LastPhoto(ctx context.Context, tank, station string) (photo KeptPhoto, found bool, err error) // of the station's newest core that was read from one
	PicksOf(ctx context.Context, tank, station string, date layers.Date) (picks []byte, found bool, err error)
	AddWater(ctx context.Context, tank string, test layers.WaterTest) error
	RemoveWater(ctx context.Context, tank string, date layers.Date, clock string) error
	AddEvent(ctx context.Context, tank string, event layers.Event) error
	RemoveEvent(ctx context.Context, tank string, event layers.Event) error
	Undo(ctx context.Context, change int64) (what string, err error) // only while that is the last change
	Last(ctx context.Context) (change int64, what string, err error) // the change that Undo takes back; empty: none
	Report(ctx context.Context, tank string) ([]byte, error)         // the printable page
	Export(ctx context.Context, w io.Writer) error                   // a logbook document
	Backup(ctx context.Context, w io.Writer) error                   // the logbook and its photos as a ZIP; nothing is written until it is complete
}

// KeptPhoto is a photo to be kept with its core.
type KeptPhoto struct {
	Kind          string
	Width, Height int
	Picks         []byte // JSON
	Preview       []byte // a small JPEG
	Content       []byte
}
