// Package records has the commands that enter and change the logbook's records: tanks, cores,
// water tests, events and the keeper's own colours. One file a command.
package records

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports/table"
)

// wantTank is what a command that works on one tank asks for.
const wantTank = "TANK, a tank's id"

// group is a command that only has others below it.
func group(cmd *cobra.Command, below ...*cobra.Command) *cobra.Command {
	cmd.Args = shell.NoArguments
	cmd.RunE = func(cmd *cobra.Command, _ []string) error { return cmd.Help() }
	cmd.AddCommand(below...)
	return cmd
}

// onTank has a command take the id of one tank.
func onTank(s *shell.Shell, cmd *cobra.Command) *cobra.Command {
	cmd.Args, cmd.ValidArgsFunction = shell.OneArgument(wantTank), s.CompleteTanks
	return cmd
}

// NewTankCommand enters, lists, shows, edits and retires tanks.
func NewTankCommand(s *shell.Shell) *cobra.Command {
	return group(&cobra.Command{
		Use:     "tank",
		GroupID: shell.GroupBook,
		Short:   "Add tanks: what they are and what they contain",
		Long: `Each tank has its own id, which every other command calls it by. The rest can be
given now, later or never; what is not given is not guessed. Adding the first
tank creates the logbook.`,
		Example: `  panecore tank add kettle --set-up 2024-10-12 --native '#d9cba6,sand'
  panecore tank list
  panecore tank show kettle`,
	}, newTankAddCommand(s), newTankListCommand(s), newTankShowCommand(s), newTankEditCommand(s),
		newTankRetireCommand(s))
}

func newTankRetireCommand(s *shell.Shell) *cobra.Command {
	return onTank(s, &cobra.Command{
		Use:   "retire TANK",
		Short: "Mark a tank as no longer kept",
		Long: `A retired tank is left out where all tanks are listed. Nothing of it is lost:
'panecore tank edit TANK --revive' takes it up again.`,
		Example: "  panecore tank retire kettle",
		RunE: func(cmd *cobra.Command, args []string) error {
			return setRetired(cmd.Context(), s, args[0], true)
		},
	})
}

// setRetired marks a tank as no longer kept, or as kept again.
func setRetired(ctx context.Context, s *shell.Shell, id string, retire bool) error {
	done, fault := "taken up again", "found it not retired, want a retired one"
	if retire {
		done, fault = "retired", "found it retired already, want one that is kept"
	}
	return s.Write(ctx, false, fmt.Sprintf("tank %q %s", id, done), func(book *logbook.Book) error {
		switch retired, err := isRetired(ctx, book, id); {
		case err != nil:
			return err
		case retired == retire:
			return shell.BadInput(fmt.Sprintf("tank %q", id), errors.New(fault))
		}
		return book.SetRetired(ctx, s.Env.Now(), id, retire)
	})
}

// isRetired reports whether a tank, which must be there, is retired.
func isRetired(ctx context.Context, book *logbook.Book, id string) (bool, error) {
	tanks, err := book.List(ctx, true)
	if err != nil {
		return false, err
	}
	i := slices.IndexFunc(tanks, func(t logbook.TankEntry) bool { return t.ID == id })
	if i < 0 {
		_, err := book.Tank(ctx, id) // its error knows what was meant
		return false, err
	}
	return tanks[i].Retired, nil
}

// newListCommand lists the entries of one kind that a tank has, which at finds in it.
func newListCommand[R any](s *shell.Shell, name, what, order string, at func(*layers.Tank) *[]R, write func(io.Writer, []R, table.Options) error) *cobra.Command {
	return onTank(s, &cobra.Command{
		Use:     "list TANK",
		Short:   "List a tank's " + what,
		Long:    "Lists a tank's " + what + " by " + order + "; with --json as a logbook document.",
		Example: fmt.Sprintf("  panecore %[1]s list kettle\n  panecore %[1]s list kettle --json", name),
		RunE: func(cmd *cobra.Command, args []string) error {
			tank, err := s.Tank(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			if s.JSON {
				only := layers.Tank{ID: tank.ID}
				*at(&only) = *at(&tank)
				return layers.Encode(s.Out, []layers.Tank{only})
			}
			return s.PrintText(func(w io.Writer, o table.Options) error { return write(w, *at(&tank), o) })
		},
	})
}
