package records

import (
	"io"
	"slices"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/table"
	"panecore/reports/words"
)

func newCoreShowCommand(s *shell.Shell) *cobra.Command {
	var key coreKey
	var picture shell.PictureFile
	cmd := onTank(s, &cobra.Command{
		Use:   "show TANK",
		Short: "Draw one core and say what its layers mean",
		Long: `Draws a core to scale, with what its layers mean by their colours and their
order. Without --date it is the newest of its station. 'panecore report' judges
the whole tank. --out draws the core as a picture.`,
		Example: `  panecore core show kettle
  panecore core show kettle --station left --date 2026-11-01
  panecore core show kettle --out front.svg
  panecore core show kettle --json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCoreShow(cmd, s, args[0], key, picture)
		},
	})
	addKeyFlags(s, cmd, &key)
	picture.AddTo(s, cmd)
	return cmd
}

func runCoreShow(cmd *cobra.Command, s *shell.Shell, id string, key coreKey, picture shell.PictureFile) error {
	ctx := cmd.Context()
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		tank, err := book.Tank(ctx, id)
		if err != nil {
			return err
		}
		core, err := key.in(cmd, tank)
		if err != nil {
			return err
		}
		settings := reports.DefaultSettings()
		if err := s.Settle(ctx, book, &settings, s.JSON); err != nil {
			return err
		}
		read := judge.ReadCore(tank, core, settings.Own(tank.ID), settings)
		switch {
		case picture.Wanted():
			settings.AsOf = core.Date
			then := judge.Interpret(slices.Values([]layers.Tank{tank}), settings).Tanks[0]
			return s.DrawPicture(picture, figure.Core(read, figure.CoreOptions{
				Tank: words.TankName(tank.ID, tank.Name), Units: s.Units, Penetration: then.Penetration,
			}))
		case s.JSON:
			return shell.WriteJSON(s.Out, read)
		}
		return s.PrintText(func(w io.Writer, to table.Options) error { return table.WriteCore(w, tank, core, read, to) })
	})
}
