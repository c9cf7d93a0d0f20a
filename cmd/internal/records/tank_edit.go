package records

import (
	"reflect"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
)

func newTankEditCommand(s *shell.Shell) *cobra.Command {
	var o setup
	var revive bool
	cmd := onTank(s, &cobra.Command{
		Use:   "edit TANK",
		Short: "Change what is known of a tank",
		Long: `Changes what the flags name and nothing else. A flag with an empty text takes
its field back to "not told". --native, where given, replaces all substrates.`,
		Example: `  panecore tank edit kettle --flow bubbled --limit mulm_mm=60
  panecore tank edit kettle --rooted '' --limit mulm_mm=
  panecore tank edit kettle --native '#d9cba6,sand' --native '#37302b,soil,30mm'
  panecore tank edit kettle --revive`,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case !revive:
				return runTankEdit(cmd, s, args[0], o)
			case o.says(cmd):
				return shell.BadUsage(cmd, "found --revive with other changes, want it alone")
			}
			return setRetired(cmd.Context(), s, args[0], false)
		},
	})
	addSetupFlags(cmd, &o)
	cmd.Flags().BoolVar(&revive, "revive", false, "take up a retired tank again")
	return cmd
}

func runTankEdit(cmd *cobra.Command, s *shell.Shell, id string, o setup) error {
	ctx := cmd.Context()
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		former, err := book.Tank(ctx, id)
		if err != nil {
			return err
		}
		tank, err := o.putOn(cmd, former)
		switch {
		case err != nil:
			return err
		case reflect.DeepEqual(tank, former):
			return shell.BadUsage(cmd, "found no change, want a flag that makes one")
		}
		if err := book.EditTank(ctx, s.Env.Now(), tank); err != nil {
			return err
		}
		s.Done("tank %q amended", id)
		return nil
	})
}
