package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/photos"
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
	var strips bool
	cmd := &cobra.Command{
		Use:     "timeline TANK",
		GroupID: shell.GroupBook,
		Short:   "Draw a tank's cores side by side over time",
		Long: `Draws the cores of each station side by side to one scale, aligned at the bed
surface, with mulm and colour oxic depth below, the events between them, and the
trends with their intervals as of today. A runaway that is under way is told.
--out draws the same as a picture.

With --photos the picture is the strip of years: the strips of the kept photos
side by side, upright, to one scale and in corrected light, with the mulm's foot
and the colour oxic depth as read drawn over them.`,
		Example: `  panecore timeline kettle
  panecore timeline kettle --as-of 2026-06-01
  panecore timeline kettle --out kettle.svg --align floor
  panecore timeline kettle --photos --out years.png
  panecore timeline kettle --json`,
		Args:              shell.OneArgument("TANK"),
		ValidArgsFunction: s.CompleteTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("align") && !picture.Wanted() {
				return shell.BadUsage(cmd, "found --align without --out, want both")
			}
			if strips && !picture.Wanted() {
				return shell.BadUsage(cmd, "found --photos without --out, want both")
			}
			return s.Judge(cmd.Context(), args[0], settings, s.JSON, func(book *logbook.Book, tank layers.Tank, settings reports.Settings) error {
				record, o := judge.NewTimeline(tank, settings), timeline.Options{Units: s.Units, Align: align}
				switch {
				case strips:
					shown, err := yearsOf(cmd.Context(), s, book, tank, settings)
					if err != nil {
						return err
					}
					return s.DrawPicture(picture, timeline.Years(record, shown, o))
				case picture.Wanted():
					return s.DrawPicture(picture, timeline.Figure(record, o))
				}
				return shell.Print(s, record, table.WriteTimeline)
			})
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	shell.AddAsOfFlag(flags, &settings, shell.AsOfToday)
	picture.AddTo(s, cmd)
	flags.BoolVar(&strips, "photos", false, "draw the strips of the kept photos instead of the cores")
	flags.Func("align", "align the cores in the picture at their `surface|floor` (default surface)", shell.Parsed(&align, timeline.ParseAlign))
	shell.Complete(cmd, "align", "surface", "floor")
	return cmd
}

// yearsOf are the strips of a tank's photos, at least one.
func yearsOf(ctx context.Context, s *shell.Shell, book *logbook.Book, tank layers.Tank, settings reports.Settings) ([]reports.Strip, error) {
	album, err := photos.OpenAlbum(ctx, book, tank, settings.Own(tank.ID))
	if err != nil {
		return nil, err
	}
	strips, err := album.Years(ctx, s.Note)
	if err == nil && len(strips) == 0 {
		err = shell.BadInput("--photos", fmt.Errorf("found no photo of tank %q that can be shown, want one that was filed with 'panecore photo' or on the page", tank.ID))
	}
	return strips, err
}
