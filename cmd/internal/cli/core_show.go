package cli

import (
	"io"
	"slices"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/table"
	"panecore/reports/words"
)

type coreShowOptions struct {
	tank    string
	key     coreKey
	picture pictureFile
}

func newCoreShowCommand(s *shell) *cobra.Command {
	var o coreShowOptions
	cmd := &cobra.Command{
		Use:   "show TANK",
		Short: "Draw one core and say what its layers mean",
		Long: `Draws a core to scale, with what its layers mean by their colours and their
order. Without --date it is the newest of its station. 'panecore report' judges
the whole tank. --out draws the core as a picture.`,
		Example: `  panecore core show kettle
  panecore core show kettle --station left --date 2026-11-01
  panecore core show kettle --out front.svg
  panecore core show kettle --json`,
		Args:              oneArgument(wantTank),
		ValidArgsFunction: s.completeTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.tank = args[0]
			return runCoreShow(cmd, s, o)
		},
	}
	addKeyFlags(s, cmd, &o.key)
	o.picture.addTo(s, cmd)
	return cmd
}

func runCoreShow(cmd *cobra.Command, s *shell, o coreShowOptions) error {
	ctx := cmd.Context()
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		tank, err := book.Tank(ctx, o.tank)
		if err != nil {
			return err
		}
		core, err := o.key.in(cmd, tank)
		if err != nil {
			return err
		}
		settings := reports.DefaultSettings()
		if err := s.settle(ctx, book, &settings, s.json); err != nil {
			return err
		}
		read := judge.ReadCore(tank, core, settings.Own(tank.ID), settings)
		switch {
		case o.picture.wanted():
			settings.AsOf = core.Date
			then := judge.Interpret(slices.Values([]layers.Tank{tank}), settings).Tanks[0]
			return s.drawPicture(o.picture, figure.Column(read, figure.ColumnOptions{
				Tank: words.TankName(tank.ID, tank.Name), Units: s.units, Penetration: then.Penetration,
			}))
		case s.json:
			return writeJSON(s.out, read)
		}
		return s.printText(func(w io.Writer, to table.Options) error { return table.WriteCore(w, tank, core, read, to) })
	})
}
