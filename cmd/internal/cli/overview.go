package cli

import (
	"context"
	"errors"
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/table"
)

type overviewOptions struct {
	due      bool
	settings reports.Settings
	picture  shell.PictureFile
}

func newOverviewCommand(s *shell.Shell) *cobra.Command {
	o := overviewOptions{settings: reports.DefaultSettings()}
	cmd := &cobra.Command{
		Use:     "overview",
		GroupID: shell.GroupBook,
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
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return runOverview(cmd.Context(), s, o) },
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().BoolVar(&o.due, "due", false, "only the tanks that are to be read by then; exit code 4 where there are any")
	shell.AddAsOfFlag(cmd.Flags(), &o.settings, shell.AsOfToday)
	o.picture.AddTo(s, cmd)
	return cmd
}

// errDue ends a list of tanks that are to be read. It is no failure: only the exit code tells
// it, to whatever sends word of them.
var errDue = errors.New("tanks are to be read")

func runOverview(ctx context.Context, s *shell.Shell, o overviewOptions) error {
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		if err := s.Settle(ctx, book, &o.settings, s.JSON); err != nil {
			return err
		}
		tanks, failed := shell.Whole(book.Tanks(ctx, false))
		overview := judge.NewOverview(judge.Interpret(tanks, o.settings), o.settings.AsOf)
		if err := failed(); err != nil {
			return err
		}
		if o.due {
			overview = overview.OnlyDue()
		}
		if err := printOverview(s, overview, o.picture); err != nil {
			return err
		}
		if o.due && len(overview.Tanks) > 0 {
			return errDue
		}
		return nil
	})
}

func printOverview(s *shell.Shell, overview reports.Overview, picture shell.PictureFile) error {
	switch {
	case picture.Wanted():
		return s.DrawPicture(picture, figure.Overview(overview, s.Units))
	case s.JSON:
		return shell.WriteJSON(s.Out, overview)
	}
	return s.PrintText(func(w io.Writer, to table.Options) error { return table.WriteOverview(w, overview, to) })
}
