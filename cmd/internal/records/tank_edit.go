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
		Short: "Change what is known about a tank",
		Long: `Changes what the flags name and nothing else. A flag with an empty text takes
its field back to "not given". --native, where given, replaces all substrates.`,
		Example: `  panecore tank edit kettle --flow bubbled --limit mulm_mm=60
  panecore tank edit kettle --rooted '' --limit mulm_mm=
  panecore tank edit kettle --native '#d9cba6,sand' --native '#37302b,soil,30mm'
  panecore tank edit kettle --revive`,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case revive && o.says(cmd):
				return shell.BadUsage(cmd, "found --revive with other changes, want it alone")
			case revive:
				return setRetired(cmd.Context(), s, args[0], false)
			}
			return s.InBook(cmd.Context(), false, func(book *logbook.Book) error {
				former, err := book.Tank(cmd.Context(), args[0])
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
				if err := book.EditTank(cmd.Context(), s.Env.Now(), tank); err != nil {
					return err
				}
				s.Done("tank %q amended", args[0])
				if !o.sure {
					askVessel(s, former.Vessel, tank)
				}
				return nil
			})
		},
	})
	addSetupFlags(cmd, &o)
	cmd.Flags().BoolVar(&revive, "revive", false, "take up a retired tank again")
	return cmd
}
