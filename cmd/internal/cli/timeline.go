package cli

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/table"
)

type timelineOptions struct {
	tank     string
	settings reports.Settings
	picture  pictureFile
	align    figure.Align
}

func newTimelineCommand(s *shell) *cobra.Command {
	o := timelineOptions{settings: reports.DefaultSettings()}
	cmd := &cobra.Command{
		Use:     "timeline TANK",
		GroupID: groupBook,
		Short:   "Draw a tank's cores beside each other as time went",
		Long: `Draws the cores of each station beside each other to one scale, their bed
surfaces in line, with mulm and colour oxic depth below, the events between
them, and the trends with their intervals as of today. --out draws the same as a
picture.`,
		Example: `  panecore timeline kettle
  panecore timeline kettle --as-of 2026-06-01
  panecore timeline kettle --out kettle.svg --align floor
  panecore timeline kettle --json`,
		Args:              oneArgument("TANK"),
		ValidArgsFunction: s.completeTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("align") && !o.picture.wanted() {
				return badUsage(cmd, "found --align without --out, want both")
			}
			o.tank = args[0]
			return runTimeline(cmd.Context(), s, o)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	addAsOfFlag(flags, &o.settings, asOfToday)
	o.picture.addTo(s, cmd)
	flags.Func("align", "in the picture, what of the cores stands in line: `surface|floor` (default surface)", parsed(&o.align, figure.ParseAlign))
	complete(cmd, "align", "surface", "floor")
	return cmd
}

func runTimeline(ctx context.Context, s *shell, o timelineOptions) error {
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		if err := s.settle(ctx, book, &o.settings, s.json); err != nil {
			return err
		}
		tank, err := book.Tank(ctx, o.tank)
		if err != nil {
			return err
		}
		timeline := judge.NewTimeline(tank, o.settings)
		switch {
		case o.picture.wanted():
			return s.drawPicture(o.picture, figure.Timeline(timeline, figure.TimelineOptions{Units: s.units, Align: o.align}))
		case s.json:
			return writeJSON(s.out, timeline)
		}
		return s.printText(func(w io.Writer, to table.Options) error { return table.WriteTimeline(w, timeline, to) })
	})
}
