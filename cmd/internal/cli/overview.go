package cli

import (
	"context"
	"errors"
	"io"
	"iter"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/table"
)

type overviewOptions struct {
	due      bool
	settings reports.Settings
	picture  pictureFile
}

func newOverviewCommand(s *shell) *cobra.Command {
	o := overviewOptions{settings: reports.DefaultSettings()}
	cmd := &cobra.Command{
		Use:     "overview",
		GroupID: groupBook,
		Short:   "List every tank in a line, the most pressing first",
		Long: `Judges every tank that is kept as of today and lists them: advice and how many
of 100 draws say so, mulm, colour oxic depth, growth, shift of the front, days
since the last reading and when the next one is due. Tanks whose water is to be
seen to first head the list, then others in trouble, then those whose bed wants
a hand, then the rest by when they are to be read. --due lists only those that
are to be read by then, and ends with exit code 4 where there are any, so that a
script can send word. --out draws their beds beside each other.`,
		Example: `  panecore overview
  panecore overview --due
  panecore overview --out tanks.png
  panecore overview --json`,
		Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return runOverview(cmd.Context(), s, o) },
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().BoolVar(&o.due, "due", false, "only the tanks that are to be read by then; exit code 4 where there are any")
	addAsOfFlag(cmd.Flags(), &o.settings, asOfToday)
	o.picture.addTo(s, cmd)
	return cmd
}

// errDue ends a list of tanks that are to be read. It is no failure: only the exit code tells
// it, to whatever sends word of them.
var errDue = errors.New("tanks are to be read")

func runOverview(ctx context.Context, s *shell, o overviewOptions) error {
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		if err := s.settle(ctx, book, &o.settings, s.json); err != nil {
			return err
		}
		tanks, failed := whole(book.Tanks(ctx, false))
		overview := judge.NewOverview(judge.Interpret(tanks, o.settings), o.settings.AsOf)
		if err := failed(); err != nil {
			return err
		}
		if o.due {
			overview = overview.OnlyDue()
		}
		if err := s.printOverview(overview, o.picture); err != nil {
			return err
		}
		if o.due && len(overview.Tanks) > 0 {
			return errDue
		}
		return nil
	})
}

func (s *shell) printOverview(overview reports.Overview, picture pictureFile) error {
	switch {
	case picture.wanted():
		return s.drawPicture(picture, figure.Overview(overview, s.units))
	case s.json:
		return writeJSON(s.out, overview)
	}
	return s.printText(func(w io.Writer, to table.Options) error { return table.WriteOverview(w, overview, to) })
}

// whole gives the tanks of a sequence up to its first error, which failed tells once
// they have been gone through.
func whole(read iter.Seq2[layers.Tank, error]) (tanks iter.Seq[layers.Tank], failed func() error) {
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
