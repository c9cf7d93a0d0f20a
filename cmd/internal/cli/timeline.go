package cli

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/figure/timeline"
	"panecore/reports/judge"
	"panecore/reports/table"
)

type timelineOptions struct {
	tank     string
	settings reports.Settings
	picture  shell.PictureFile
	align    timeline.Align
}

func newTimelineCommand(s *shell.Shell) *cobra.Command {
	o := timelineOptions{settings: reports.DefaultSettings()}
	cmd := &cobra.Command{
		Use:     "timeline TANK",
		GroupID: shell.GroupBook,
		Short:   "Draw a tank's cores beside each other as time went",
		Long: `Draws the cores of each station beside each other to one scale, their bed
surfaces in line, with mulm and colour oxic depth below, the events between
them, and the trends with their intervals as of today. --out draws the same as a
picture.`,
		Example: `  panecore timeline kettle
  panecore timeline kettle --as-of 2026-06-01
  panecore timeline kettle --out kettle.svg --align floor
  panecore timeline kettle --json`,
		Args:              shell.OneArgument("TANK"),
		ValidArgsFunction: s.CompleteTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("align") && !o.picture.Wanted() {
				return shell.BadUsage(cmd, "found --align without --out, want both")
			}
			o.tank = args[0]
			return runTimeline(cmd.Context(), s, o)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	shell.AddAsOfFlag(flags, &o.settings, shell.AsOfToday)
	o.picture.AddTo(s, cmd)
	flags.Func("align", "in the picture, what of the cores stands in line: `surface|floor` (default surface)", shell.Parsed(&o.align, timeline.ParseAlign))
	shell.Complete(cmd, "align", "surface", "floor")
	return cmd
}

func runTimeline(ctx context.Context, s *shell.Shell, o timelineOptions) error {
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		if err := s.Settle(ctx, book, &o.settings, s.JSON); err != nil {
			return err
		}
		tank, err := book.Tank(ctx, o.tank)
		if err != nil {
			return err
		}
		record := judge.NewTimeline(tank, o.settings)
		switch {
		case o.picture.Wanted():
			return s.DrawPicture(o.picture, timeline.Draw(record, timeline.Options{Units: s.Units, Align: o.align}))
		case s.JSON:
			return shell.WriteJSON(s.Out, record)
		}
		return s.PrintText(func(w io.Writer, to table.Options) error { return table.WriteTimeline(w, record, to) })
	})
}
