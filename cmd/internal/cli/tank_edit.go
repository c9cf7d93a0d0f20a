package cli

import (
	"context"

	"github.com/spf13/cobra"

	"panecore/layers/logbook"
)

func newTankEditCommand(s *shell) *cobra.Command {
	var o setup
	var revive bool
	cmd := &cobra.Command{
		Use:   "edit TANK",
		Short: "Change what is known of a tank",
		Long: `Changes what the flags name and nothing else. A flag with an empty text takes
its field back to "not told". --native, where given, replaces all substrates.`,
		Example: `  panecore tank edit kettle --flow bubbled --limit mulm_mm=60
  panecore tank edit kettle --rooted '' --limit mulm_mm=
  panecore tank edit kettle --native '#d9cba6,sand' --native '#37302b,soil,30mm'
  panecore tank edit kettle --revive`,
		Args:              oneArgument(wantTank),
		ValidArgsFunction: s.completeTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch edits := o.says(cmd); {
			case !edits && !revive:
				return badUsage(cmd, "found no change, want a flag that makes one")
			case edits && revive:
				return badUsage(cmd, "found --revive with other changes, want it alone")
			case revive:
				return runTankRevive(cmd.Context(), s, args[0])
			}
			return runTankEdit(cmd, s, args[0], o)
		},
	}
	addSetupFlags(cmd, &o)
	cmd.Flags().BoolVar(&revive, "revive", false, "take up a retired tank again")
	return cmd
}

func runTankEdit(cmd *cobra.Command, s *shell, id string, o setup) error {
	ctx := cmd.Context()
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		tank, err := book.Tank(ctx, id)
		if err != nil {
			return err
		}
		if tank, err = o.putOn(cmd, tank); err != nil {
			return err
		}
		if err := book.EditTank(ctx, s.env.Now(), tank); err != nil {
			return err
		}
		s.done("tank %q amended", id)
		return nil
	})
}

func runTankRevive(ctx context.Context, s *shell, id string) error {
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		if err := book.ReviveTank(ctx, s.env.Now(), id); err != nil {
			return err
		}
		s.done("tank %q taken up again", id)
		return nil
	})
}
