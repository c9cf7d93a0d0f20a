package site

import (
	"context"

	"panecore/layers"
	"panecore/reports"
)

// Album shows the photos that cores were read from. Its errors are as those of [Store]; where a core has no photo, or the
// photo's file is gone, they wrap ErrMissing.
type Album interface {
	Strips(ctx context.Context, tank layers.Tank) ([]reports.Strip, error)                           // of every core whose photo is kept, without pictures
	PhotoFile(ctx context.Context, tank layers.Tank, core layers.Core) ([]byte, error)               // as it was sent
	Drawn(ctx context.Context, tank layers.Tank, core layers.Core) ([]byte, error)                   // with what was filed drawn on it, a JPEG
	Strip(ctx context.Context, tank layers.Tank, core layers.Core) ([]byte, error)                   // a JPEG
	Change(ctx context.Context, tank layers.Tank, before, after layers.Core) (reports.Change, error) // between two photos of a station
}
