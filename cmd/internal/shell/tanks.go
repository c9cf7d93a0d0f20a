package shell

import (
	"context"
	"iter"
	"slices"
	"time"

	"panecore/layers"
	"panecore/layers/logbook"
)

// Whole gives the tanks of a sequence up to its first error, which failed tells once
// they have been gone through.
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

// AllTanks reads every tank at once; retired ones only if asked.
func AllTanks(ctx context.Context, book *logbook.Book, retired bool) ([]layers.Tank, error) {
	read, failed := Whole(book.Tanks(ctx, retired))
	tanks := slices.Collect(read)
	return tanks, failed()
}

// ChangeWords says what a change was and when, by the keeper's clock.
func ChangeWords(change logbook.Change, now time.Time) string {
	return change.What + " (on " + change.At.In(now.Location()).Format("2006-01-02 15:04") + ")"
}
