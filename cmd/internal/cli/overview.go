package cli

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/table"
)

func newOverviewCommand(s *shell.Shell) *cobra.Command {
	settings := reports.DefaultSettings()
	var due bool
	var picture shell.PictureFile
	cmd := &cobra.Command{
		Use:     "overview",
		GroupID: shell.GroupBook,
		Short:   "List every tank in one line, the most pressing first",
		Long: `Judges every tank that is not retired as of today and lists them: advice and how
many of 100 draws say so, mulm, colour oxic depth, growth, shift of the front,
days since the last reading, and when the next one is due. First come tanks
whose water needs attention, then others in trouble or with a runaway under way,
then those whose bed needs work, then those due for a reading. Tanks that were
never read follow, since nothing is known yet that makes them press, and then
the rest by the date of their next reading. --due lists only those due for a
reading, and ends with exit code 4 if there are any, so that a script can send
a reminder. --out draws their beds side by side.`,
		Example: `  panecore overview
  panecore overview --due
  panecore overview --out tanks.png
  panecore overview --json`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return runOverview(cmd.Context(), s, settings, due, picture)
		},
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().BoolVar(&due, "due", false, "list only tanks due for a reading; exit code 4 if there are any")
	shell.AddAsOfFlag(cmd.Flags(), &settings, shell.AsOfToday)
	picture.AddTo(s, cmd)
	return cmd
}

// errDue ends a list of tanks that are due. It is not a failure: only the exit code shows it.
var errDue = errors.New("tanks are due for a reading")

func runOverview(ctx context.Context, s *shell.Shell, settings reports.Settings, due bool, picture shell.PictureFile) error {
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		if err := s.Settle(ctx, book, &settings, s.JSON); err != nil {
			return err
		}
		tanks, failed := shell.Whole(book.Tanks(ctx, false))
		overview := judge.NewOverview(judge.Interpret(tanks, settings), settings.AsOf)
		if err := failed(); err != nil {
			return err
		}
		if due {
			overview = overview.OnlyDue()
		}
		if err := shell.Show(s, picture, overview, figure.Overview, table.WriteOverview); err != nil {
			return err
		}
		if due && len(overview.Tanks) > 0 {
			return errDue
		}
		return nil
	})
}
