package shell

import (
	"context"
	"iter"
	"slices"
	"time"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/palette"
	"panecore/reports"
)

// Whole yields the tanks of a sequence up to its first error, which failed returns after the loop.
func Whole(read iter.Seq2[layers.Tank, error]) (tanks iter.Seq[layers.Tank], failed func() error) {
	var stopped error
	tanks = func(yield func(layers.Tank) bool) {
		for tank, err := range read {
			if err != nil {
				stopped = err
				return
			}
			if !yield(tank) {
				return
			}
		}
	}
	return tanks, func() error { return stopped }
}

// AllTanks reads every tank with its records; the retired ones only if asked.
func AllTanks(ctx context.Context, book *logbook.Book, retired bool) ([]layers.Tank, error) {
	read, failed := Whole(book.Tanks(ctx, retired))
	tanks := slices.Collect(read)
	return tanks, failed()
}

// ChangeWords says what a change was and when, by the keeper's clock.
func ChangeWords(change logbook.Change, now time.Time) string {
	return change.What + " (on " + change.At.In(now.Location()).Format("2006-01-02 15:04") + ")"
}

// Settle completes settings from the logbook, the flags and the clock: the keeper's own
// prototypes, the units in sentences, and today as the day to judge as of if none is set.
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

// Judge calls use with a tank of the logbook and the settings to judge it by.
func (s *Shell) Judge(ctx context.Context, id string, settings reports.Settings, json bool, use func(*logbook.Book, layers.Tank, reports.Settings) error) error {
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		if err := s.Settle(ctx, book, &settings, json); err != nil {
			return err
		}
		tank, err := book.Tank(ctx, id)
		if err != nil {
			return err
		}
		return use(book, tank, settings)
	})
}

// OwnColors are the keeper's own prototypes for each tank.
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
