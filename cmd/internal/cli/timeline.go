package cli

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/table"
)

func newTimelineCommand(s *shell) *cobra.Command {
	settings := reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed}
	cmd := &cobra.Command{
		Use:     "timeline TANK",
		GroupID: groupBook,
		Short:   "Draw a tank's cores beside each other as time went",
		Long: `Draws the cores of each station beside each other to one scale, their bed surfaces
in line, with mulm and colour oxic depth below, the events between them, and the
trends with their intervals.`,
		Example: `  panecore timeline kettle
  panecore timeline kettle --as-of 2026-06-01
  panecore timeline kettle --json`,
		Args:              oneArgument("TANK"),
		RunE:              func(cmd *cobra.Command, args []string) error { return runTimeline(cmd.Context(), s, args[0], settings) },
		ValidArgsFunction: s.completeTanks,
	}
	cmd.Flags().Func("as-of", "draw the record up to `DATE`, YYYY-MM-DD", parsed(&settings.AsOf, layers.ParseDate))
	return cmd
}

func runTimeline(ctx context.Context, s *shell, id string, settings reports.Settings) error {
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		if err := s.settle(ctx, book, &settings, s.json); err != nil {
			return err
		}
		tank, err := book.Tank(ctx, id)
		if err != nil {
			return err
		}
		timeline := reports.NewTimeline(tank, settings)
		if s.json {
			return writeJSON(s.out, timeline)
		}
		return s.printText(func(w io.Writer, o table.Options) error { return table.WriteTimeline(w, timeline, o) })
	})
}
