package cli

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/table"
)

type oxygenOptions struct {
	physicsOptions
	lights  reports.Lights
	picture shell.PictureFile
}

func newOxygenCommand(s *shell.Shell) *cobra.Command {
	o := oxygenOptions{lights: reports.Lights{On: reports.DefaultLightsOn, Hours: reports.DefaultLitHours}}
	cmd := &cobra.Command{
		Use:     "oxygen TANK",
		GroupID: shell.GroupReadings,
		Short:   "Draw the oxygen from the water surface down into the bed",
		Long: `Works out, for a tank as it was last read, the oxygen in the dark from the water
surface to where it ends in the bed, the least and the most in a day, and what
an air stone or a pump would add at the bottom. It needs the vessel and a water
temperature of the last 90 days; oxygen measured before the lights come on makes
it more certain. --out draws it as a picture.`,
		Example: `  panecore oxygen kettle
  panecore oxygen kettle --lights-on 08:00 --lit-hours 9 --plant-oxygen 2
  panecore oxygen kettle --out oxygen.svg
  panecore oxygen --file logbook.json --json`,
		RunE: func(cmd *cobra.Command, _ []string) error { return runOxygen(cmd.Context(), s, o) },
	}
	o.addTo(s, cmd)
	cmd.Flags().Func("lights-on", "when the lights come on, `HH:MM` (default 08:00)", shell.Parsed(&o.lights.On, parseHour))
	cmd.Flags().Func("lit-hours", "`HOURS` of light a day, 0 to 24 (default 10)", shell.Parsed(&o.lights.Hours, within(0, 24, "hours")))
	cmd.Flags().Func("plant-oxygen", "what plants give off while lit, `G` O2 per m2 of surface and day, 0 to 50 (default 0: not known)",
		shell.Parsed(&o.lights.PlantOxygen, within(0, 50, "g a day per m2")))
	o.picture.AddTo(s, cmd)
	return cmd
}

func parseHour(text string) (float64, error) {
	t, err := time.Parse("15:04", text)
	if err != nil {
		return 0, fmt.Errorf("found %q, want a time of day as HH:MM", text)
	}
	return float64(t.Hour()) + float64(t.Minute())/60, nil
}

// within reads a number in a range.
func within(low, high float64, unit string) func(string) (float64, error) {
	return func(text string) (float64, error) {
		x, err := layers.ParseNumber(text)
		if err != nil || !(x >= low && x <= high) {
			return 0, fmt.Errorf("found %q, want %g to %g %s", text, low, high, unit)
		}
		return x, nil
	}
}

func runOxygen(ctx context.Context, s *shell.Shell, o oxygenOptions) error {
	return onTank(ctx, s, o.physicsOptions, func(tank layers.Tank, settings reports.Settings) error {
		profile, err := judge.Oxygen(tank, settings, o.lights)
		if err != nil {
			return err
		}
		return shell.Show(s, o.picture, profile, figure.Oxygen, table.WriteOxygen)
	})
}
