package cli

import (
	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/figure/timeline"
	"panecore/reports/judge"
	"panecore/reports/table"
)

func newTimelineCommand(s *shell.Shell) *cobra.Command {
	settings := reports.DefaultSettings()
	var picture shell.PictureFile
	var align timeline.Align
	cmd := &cobra.Command{
		Use:     "timeline TANK",
		GroupID: shell.GroupBook,
		Short:   "Draw a tank's cores side by side over time",
		Long: `Draws the cores of each station side by side to one scale, aligned at the bed
surface, with mulm and colour oxic depth below, the events between them, and the
trends with their intervals as of today. A runaway that is under way is told.
--out draws the same as a picture.`,
		Example: `  panecore timeline kettle
  panecore timeline kettle --as-of 2026-06-01
  panecore timeline kettle --out kettle.svg --align floor
  panecore timeline kettle --json`,
		Args:              shell.OneArgument("TANK"),
		ValidArgsFunction: s.CompleteTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("align") && !picture.Wanted() {
				return shell.BadUsage(cmd, "found --align without --out, want both")
			}
			return s.Judge(cmd.Context(), args[0], settings, s.JSON, func(_ *logbook.Book, tank layers.Tank, settings reports.Settings) error {
				record := judge.NewTimeline(tank, settings)
				if picture.Wanted() {
					return s.DrawPicture(picture, timeline.Figure(record, timeline.Options{Units: s.Units, Align: align}))
				}
				return shell.Print(s, record, table.WriteTimeline)
			})
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	shell.AddAsOfFlag(flags, &settings, shell.AsOfToday)
	picture.AddTo(s, cmd)
	flags.Func("align", "align the cores in the picture at their `surface|floor` (default surface)", shell.Parsed(&align, timeline.ParseAlign))
	shell.Complete(cmd, "align", "surface", "floor")
	return cmd
}
