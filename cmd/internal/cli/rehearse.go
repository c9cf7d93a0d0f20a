package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/table"
)

// physicsOptions are what rehearse and oxygen share.
type physicsOptions struct {
	tank     string
	file     string // a logbook document; empty: the logbook
	settings reports.Settings
}

type rehearseOptions struct {
	physicsOptions
	method  reports.Method
	share   float64
	depthMM float64
	picture shell.PictureFile
}

func newRehearseCommand(s *shell.Shell) *cobra.Command {
	o := rehearseOptions{method: reports.MethodSiphon, share: reports.DefaultFloorShare, depthMM: reports.DefaultSiphonMM}
	cmd := &cobra.Command{
		Use:     "rehearse TANK",
		GroupID: shell.GroupReadings,
		Short:   "Work out beforehand what a stir or a siphoning releases",
		Long: `Works out, for a tank as it was last read, the ammonia, hydrogen sulphide and
oxygen debt that a disturbance releases and the oxygen that it leaves, each with
its published limit, and the largest share of the floor that stays within them.
It needs the vessel and a water temperature of the last 90 days; pH, ammonia and
measured oxygen make it more certain. Anything that speaks against putting a
hand in the bed comes first. --out draws each number beside its limit.`,
		Example: `  panecore rehearse kettle --method stir --share 25% --to 15mm
  panecore rehearse kettle --file logbook.json --method siphon
  panecore rehearse kettle --out siphon.pdf
  panecore rehearse kettle --json`,
		RunE: func(cmd *cobra.Command, args []string) error { return runRehearse(cmd, s, o) },
	}
	o.addTo(s, cmd)
	shell.AddWordFlag(cmd, &o.method, "method", "`stir|siphon` (default siphon)", reports.MethodStir, reports.MethodSiphon)
	cmd.Flags().Func("share", "how much of the floor, as in `25%` (default 25%)", shell.Parsed(&o.share, parseFloorShare))
	cmd.Flags().Func("to", "how `DEEP` below the bed surface, as in 15mm (default 10mm, or\nas far as the bed was read)", shell.Parsed(&o.depthMM, layers.ParseSize))
	o.picture.AddTo(s, cmd)
	return cmd
}

// addTo adds the flags of both commands; the tank is the argument.
func (o *physicsOptions) addTo(s *shell.Shell, cmd *cobra.Command) {
	shell.AddDrawFlags(cmd.Flags(), &o.settings, shell.AsOfToday+"; for a document its newest record")
	cmd.Flags().Func("file", "take the tank from a logbook `DOCUMENT`, or - for standard input", shell.Parsed(&o.file, shell.ParseGiven))
	cmd.Flags().Func("altitude", "the room's `HEIGHT` above the sea, as in 900m or 3000ft (default 0m)", shell.Parsed(&o.settings.AltitudeM, parseAltitude))
	cmd.ValidArgsFunction = s.CompleteTanks
	cmd.Args = func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 && o.file != "" { // the document's only tank
			return nil
		}
		if err := shell.OneArgument("TANK")(cmd, args); err != nil {
			return err
		}
		o.tank = args[0]
		return nil
	}
}

// parseAltitude reads a height above the sea with its unit, in metres.
func parseAltitude(text string) (metres float64, err error) {
	const footM = 0.3048 // m, exact by the international foot of 1959
	number, unit := strings.CutSuffix(strings.TrimSpace(text), "m")
	perUnit := 1.0
	if !unit {
		number, unit = strings.CutSuffix(number, "ft")
		perUnit = footM
	}
	if metres, err = layers.ParseNumber(strings.TrimSpace(number)); !unit || err != nil || !(metres*perUnit >= -400 && metres*perUnit <= 5000) {
		return 0, fmt.Errorf("found %q, want a height of -400 to 5000 m with its unit, as in 900m or 3000ft", text)
	}
	return metres * perUnit, nil
}

// parseFloorShare reads a percentage above 0 and up to 100.
func parseFloorShare(text string) (float64, error) {
	share, err := layers.ParseShare(text)
	if err == nil && !(share > 0 && share <= 1) {
		err = fmt.Errorf("found %q, want a share of the floor above 0%% and up to 100%%", text)
	}
	return share, err
}

func runRehearse(cmd *cobra.Command, s *shell.Shell, o rehearseOptions) error {
	return onTank(cmd.Context(), s, o.physicsOptions, func(tank layers.Tank, settings reports.Settings) error {
		if !cmd.Flags().Changed("to") {
			if deepest := judge.DeepestMM(tank, settings); deepest > 0 {
				o.depthMM = min(o.depthMM, deepest)
			}
		}
		rehearsal, err := judge.Rehearse(tank, settings, o.method, o.share, o.depthMM)
		if err != nil {
			return err
		}
		return shell.Show(s, o.picture, rehearsal, figure.Rehearsal, table.WriteRehearsal)
	})
}

// onTank calls use with a tank of a document or of the logbook. Missing values are bad input.
func onTank(ctx context.Context, s *shell.Shell, o physicsOptions, use func(layers.Tank, reports.Settings) error) error {
	used := func(tank layers.Tank, settings reports.Settings, place string) error {
		err := use(tank, settings)
		var lacking *reports.InputError
		if errors.As(err, &lacking) {
			return shell.BadInput(place, lacking)
		}
		return err
	}
	if o.file == "" {
		return s.Judge(ctx, o.tank, o.settings, s.JSON, func(_ *logbook.Book, tank layers.Tank, settings reports.Settings) error {
			path, _ := s.BookPath() // it was found before
			return used(tank, settings, path)
		})
	}
	tank, place, err := tankOf(s, o)
	if err != nil {
		return err
	}
	if !s.JSON {
		o.settings.Units = s.Units
	}
	return used(tank, o.settings, place)
}

// tankOf reads a tank from a document: the one asked for, or the only one.
func tankOf(s *shell.Shell, o physicsOptions) (tank layers.Tank, place string, err error) {
	tanks, place, err := s.ReadDocument(o.file)
	if err != nil {
		return tank, place, err
	}
	var ids []string
	for _, tank := range tanks {
		if tank.ID == o.tank || o.tank == "" && len(tanks) == 1 {
			return tank, place, nil
		}
		ids = append(ids, tank.ID)
	}
	return tank, place, shell.BadInput(place, fmt.Errorf("found no tank %q, want one of %s", o.tank, strings.Join(ids, ", ")))
}
