package records

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
)

// NewCoreCommand enters, lists, shows, amends and removes cores.
func NewCoreCommand(s *shell.Shell) *cobra.Command {
	return group(&cobra.Command{
		Use:     "core",
		GroupID: shell.GroupBook,
		Short:   "Add cores: what was seen through the glass, layer by layer",
		Long: `A core is one reading of the side view: a tank, a station (a marked place on the
glass), a date, and the layers from the bed surface down.`,
		Example: `  panecore core add kettle '12mm #8b5e3c' '4mm #b4552a rust' '46mm #d9cba6'
  panecore core list kettle
  panecore core show kettle`,
	}, newCoreAddCommand(s), newCoreListCommand(s), newCoreShowCommand(s), newCoreAmendCommand(s),
		newCoreRemoveCommand(s))
}

// coreKey says which core of a tank is meant.
type coreKey struct {
	station string      // empty: the tank's only one
	date    layers.Date // zero: not given
}

func addKeyFlags(s *shell.Shell, cmd *cobra.Command, key *coreKey) {
	cmd.Flags().SortFlags = false
	cmd.Flags().Func("station", "the core read at `STATION` (default: the tank's only one)", shell.Parsed(&key.station, layers.ParseName))
	cmd.Flags().Func("date", "the core read on `DATE`, YYYY-MM-DD", shell.Parsed(&key.date, layers.ParseDate))
	completeStations(cmd, s)
}

// in finds the core that a key means in a tank; without a date it is the newest.
func (k coreKey) in(cmd *cobra.Command, tank layers.Tank) (layers.Core, error) {
	if k.station == "" {
		stations := tank.Stations()
		if len(stations) > 1 {
			return layers.Core{}, shell.BadUsage(cmd, "found no --station, want one of %s", strings.Join(stations, ", "))
		}
		k.station = strings.Join(stations, "")
	}
	for _, core := range slices.Backward(tank.Cores) {
		if core.Station == k.station && (core.Date == k.date || k.date == 0) {
			return core, nil
		}
	}
	return layers.Core{}, k.missing(tank)
}

func (k coreKey) missing(tank layers.Tank) error {
	if len(tank.Cores) == 0 {
		return &logbook.NotFoundError{What: fmt.Sprintf("core of tank %q", tank.ID)}
	}
	var known []string
	for _, core := range tank.Cores {
		known = append(known, CoreName(core))
	}
	name := strings.TrimSpace(CoreName(layers.Core{Station: k.station, Date: k.date}))
	return &logbook.NotFoundError{What: fmt.Sprintf("%s of tank %q", name, tank.ID), Near: layers.Nearest(name, known)}
}

// CoreName is what a core is called, as the logbook does.
func CoreName(core layers.Core) string { return "core " + core.Station + " " + core.Date.String() }

// completeStations completes --station with those of the tank typed before it.
func completeStations(cmd *cobra.Command, s *shell.Shell) {
	shell.CompleteBy(cmd, "station", func(cmd *cobra.Command, args []string, _ string) (stations []string, _ cobra.ShellCompDirective) {
		ctx, cancel := context.WithTimeout(cmd.Context(), shell.CompletionTime)
		defer cancel()
		if len(args) > 0 {
			_ = s.InBook(ctx, false, func(book *logbook.Book) error {
				tank, err := book.Tank(ctx, args[0])
				stations = tank.Stations()
				return err
			})
		}
		return stations, cobra.ShellCompDirectiveNoFileComp
	})
}
