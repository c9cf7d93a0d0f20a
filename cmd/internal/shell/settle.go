package shell

import (
	"context"

	"panecore/layers/logbook"
	"panecore/palette"
	"panecore/reports"
)

// Settle gives findings what the logbook, the flags and the clock say of how to make them: the
// keeper's own prototypes, the units of sentences, and that tanks are judged as of today where
// no other day is told.
func (s *Shell) Settle(ctx context.Context, book *logbook.Book, settings *reports.Settings, json bool) error {
	if !json {
		settings.Units = s.Units
	}
	if settings.AsOf == 0 {
		settings.AsOf = s.Today()
	}
	var err error
	settings.Own, err = OwnColors(ctx, book)
	return err
}

// OwnColors are the keeper's own prototypes that hold for a tank.
func OwnColors(ctx context.Context, book *logbook.Book) (func(tank string) []palette.Prototype, error) {
	own, err := book.Prototypes(ctx, "")
	return func(tank string) (list []palette.Prototype) {
		for _, p := range own {
			if p.Tank == "" || p.Tank == tank {
				list = append(list, palette.Prototype{Band: p.Band, Color: p.Color, Spread: p.Spread, Source: "the keeper"})
			}
		}
		return list
	}, err
}
