package records

import (
	"fmt"
	"reflect"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
)

type coreChange struct {
	to     coreKey
	seen   Seen
	mend   mend
	layers []string // as they are typed; none: they stay
}

func newCoreAmendCommand(s *shell.Shell) *cobra.Command {
	var key coreKey
	var change coreChange
	cmd := &cobra.Command{
		Use:   "amend TANK --date DATE [LAYER...|-]",
		Short: "Change a core",
		Long: `Changes what the flags name and nothing else; layers, where given, replace all
of the core's. The former core stays to be seen: 'panecore core list --all'.

Slips are mended without typing the layers anew: --turn, --times and --depths
say what went wrong with all of them, --name what a layer is. Thicknesses that
are mended count as read by eye, even those of a photo. What --sure says holds
until the layers, the station or the date change.`,
		Example: `  panecore core amend kettle --date 2026-11-01 --note 'after the weekend'
  panecore core amend kettle --date 2026-11-01 --new-date 2026-11-02 --sign none
  panecore core amend kettle --date 2026-11-01 '12mm #8b5e3c' '50mm #d9cba6'
  panecore core amend kettle --date 2026-11-01 --times 0.1
  panecore core amend kettle --date 2026-11-01 --name 2=rust --sure`,
		Args:              tankAndLayers,
		ValidArgsFunction: s.CompleteTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := shell.RequireFlags(cmd, "date"); err != nil {
				return err
			}
			change.layers = args[1:]
			if err := change.mend.check(cmd, len(change.layers) > 0); err != nil {
				return err
			}
			return runCoreAmend(cmd, s, args[0], key, change)
		},
	}
	addKeyFlags(s, cmd, &key)
	cmd.Flags().Func("new-station", "it was read at `STATION`", shell.Parsed(&change.to.station, layers.ParseName))
	cmd.Flags().Func("new-date", "it was read on `DATE`, YYYY-MM-DD", shell.Parsed(&change.to.date, layers.ParseDate))
	addMendFlags(cmd, &change.mend)
	AddSeenFlags(cmd, &change.seen)
	return cmd
}

func runCoreAmend(cmd *cobra.Command, s *shell.Shell, id string, key coreKey, change coreChange) error {
	ctx := cmd.Context()
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		tank, swatches, err := tankWithSwatches(ctx, book, id)
		if err != nil {
			return err
		}
		former, err := key.in(cmd, tank)
		if err != nil {
			return err
		}
		core, err := change.putOn(cmd, s, former, swatches)
		switch {
		case err != nil:
			return err
		case reflect.DeepEqual(core, former):
			return shell.BadUsage(cmd, "found no change, want layers or a flag that makes one")
		}
		if err := book.AmendCore(ctx, s.Env.Now(), id, former.Station, former.Date, core); err != nil {
			return err
		}
		s.Done("%s of tank %q amended", CoreName(former), id)
		return TellDoubt(ctx, s, book, id, core)
	})
}

// PutOn returns the former core with its change.
func (c *coreChange) putOn(cmd *cobra.Command, s *shell.Shell, former layers.Core, swatches []logbook.Prototype) (layers.Core, error) {
	core := former
	if len(c.layers) > 0 {
		var err error
		if core.Layers, err = readLayers(s, c.layers, swatches); err != nil {
			return core, err
		}
		core.Photo = nil // what is typed was read by eye
	}
	core, err := c.mend.putOn(cmd, core)
	if err != nil {
		return core, err
	}
	if c.to.station != "" {
		core.Station = c.to.station
	}
	if c.to.date != 0 {
		core.Date = c.to.date
	}
	if !cmd.Flags().Changed("sure") {
		core.Sure = core.StaysSure(former)
	}
	return c.seen.PutOn(cmd, core)
}

func newCoreRemoveCommand(s *shell.Shell) *cobra.Command {
	var key coreKey
	var yes bool
	cmd := onTank(s, &cobra.Command{
		Use:   "remove TANK --date DATE",
		Short: "Remove a core",
		Long:  "Removes a core; 'panecore core list --all' still shows it.",
		Example: `  panecore core remove kettle --date 2026-11-01
  panecore core remove kettle --station left --date 2026-11-01 --yes`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := shell.RequireFlags(cmd, "date"); err != nil {
				return err
			}
			var core layers.Core
			err := s.InBook(cmd.Context(), false, func(book *logbook.Book) error {
				tank, err := book.Tank(cmd.Context(), args[0])
				if err != nil {
					return err
				}
				core, err = key.in(cmd, tank)
				return err
			})
			if err != nil {
				return err
			}
			return s.Remove(cmd, fmt.Sprintf("%s of tank %q", CoreName(core), args[0]), yes, func(book *logbook.Book) error {
				return book.RemoveCore(cmd.Context(), s.Env.Now(), args[0], core.Station, core.Date)
			})
		},
	})
	addKeyFlags(s, cmd, &key)
	shell.AddYesFlag(cmd.Flags(), &yes)
	return cmd
}
