package records

import (
	"cmp"
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
)

func newCoreAddCommand(s *shell.Shell) *cobra.Command {
	var key coreKey
	var o Seen
	cmd := &cobra.Command{
		Use:   "add TANK LAYER...|-",
		Short: "Add a core",
		Long: `A LAYER is a thickness with its unit and a colour, and, where you are sure, the
band; a note stands in double quotes. Layers go from the bed surface down, each
in quotes of its own. A colour is a hex value or the name of one that 'panecore
bands add' keeps.

With - the layers come from standard input as a spreadsheet saves or copies
them: headings thickness_mm (or thickness, with units), hex, band, note, then a
row a layer. Without any, the command asks for all that no flag says.

A core that does not fit the tank's record is added all the same, and a note
asks about it, with a command for each answer; --sure says in advance that it is
right.`,
		Example: `  panecore core add kettle '12mm #8b5e3c' '4mm #b4552a rust' '46mm #d9cba6'
  panecore core add kettle --station left --date 2026-11-01 --unlit \
    --sign gas-bubbles '0.7in #6b4a2b mulm-dark "a few worms"' '2in sand1'
  panecore core add kettle - < core.csv
  panecore core add kettle`,
		Args:              tankAndLayers,
		ValidArgsFunction: s.CompleteTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			core, err := o.PutOn(cmd, layers.Core{Station: key.station, Date: key.date})
			if err != nil {
				return err
			}
			if len(args) == 1 && !s.Env.StdinIsTerminal {
				return shell.BadUsage(cmd, "found no layer and no terminal to ask on, want LAYER..., or - for a table on standard input")
			}
			return runCoreAdd(cmd, s, args[0], core, args[1:])
		},
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().Func("station", "read at `STATION` (default: the tank's only one, else front)", shell.Parsed(&key.station, layers.ParseName))
	cmd.Flags().Func("date", "read on `DATE`, YYYY-MM-DD (default today)", shell.Parsed(&key.date, layers.ParseDate))
	AddSeenFlags(cmd, &o)
	completeStations(cmd, s)
	return cmd
}

func tankAndLayers(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return shell.BadUsage(cmd, "found no argument, want %s, and the layers", wantTank)
	}
	return nil
}

// runCoreAdd adds a core of which the flags have said a part.
func runCoreAdd(cmd *cobra.Command, s *shell.Shell, id string, core layers.Core, args []string) error {
	ctx := cmd.Context()
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		tank, swatches, err := tankWithSwatches(ctx, book, id)
		if err != nil {
			return err
		}
		var lacking []layers.Event
		if len(args) == 0 {
			core, lacking, err = askCore(cmd, s, book, tank, swatches, core)
		} else {
			core.Station, core.Date = cmp.Or(core.Station, tank.UsualStation()), s.DateOr(core.Date)
			core.Layers, err = readLayers(s, args, swatches)
		}
		if err != nil {
			return err
		}
		if err := book.AddCore(ctx, s.Env.Now(), id, core); err != nil {
			return err
		}
		s.Done("%s of tank %q added: %s", CoreName(core), id, CoreWords(s, core))
		for _, event := range lacking {
			if err := addEvent(ctx, s, book, id, event); err != nil {
				return err
			}
		}
		return TellDoubt(ctx, s, book, id, core)
	})
}

// CoreWords says how much was seen.
func CoreWords(s *shell.Shell, core layers.Core) string {
	return fmt.Sprintf("layers: %d, down to %s", len(core.Layers), s.Units.Length(core.DepthMM()))
}

// tankWithSwatches reads a tank and the colours that its keeper calls by name.
func tankWithSwatches(ctx context.Context, book *logbook.Book, id string) (layers.Tank, []logbook.Prototype, error) {
	tank, err := book.Tank(ctx, id)
	if err != nil {
		return tank, nil, err
	}
	swatches, err := book.Prototypes(ctx, id)
	return tank, swatches, err
}
