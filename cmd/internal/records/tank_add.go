package records

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
)

func newTankAddCommand(s *shell.Shell) *cobra.Command {
	var o setup
	cmd := &cobra.Command{
		Use:   "add TANK",
		Short: "Add a tank",
		Long: `Adds a tank under an id of your choice; one word is the handiest. Give the
colour of each substrate on set-up day if you can: it tells the substrate from
what grows in it later. A tank with measures that few have is added all the
same, and a note asks about them, since cm and mm are easily mistaken; --sure
says in advance that they are right.`,
		Example: `  panecore tank add kettle --set-up 2024-10-12 --native '#d9cba6,sand,60mm'
  panecore tank add kettle --name Kettle --box 600x300mm --water-depth 280mm \
    --flow livestock --burrowers yes --rooted yes --limit mulm_mm=60
  panecore tank add vat --cylinder 16in --water-depth 12in --flow still`,
		Args: shell.OneArgument("TANK, an id for the new tank"),
		RunE: func(cmd *cobra.Command, args []string) error {
			id, err := layers.ParseName(args[0])
			if err != nil {
				return shell.BadInput("id", err)
			}
			tank, err := o.putOn(cmd, layers.Tank{ID: id})
			if err != nil {
				return err
			}
			if err := checkTank(tank, s.Today()); err != nil {
				return err
			}
			err = s.Write(cmd.Context(), true, fmt.Sprintf("tank %q added", id), func(book *logbook.Book) error {
				return book.AddTank(cmd.Context(), s.Env.Now(), tank)
			})
			if err == nil && !o.sure {
				askVessel(s, nil, tank)
			}
			return err
		},
	}
	addSetupFlags(cmd, &o)
	return cmd
}

// checkTank holds a tank to the rules of a document before the first of all makes
// a logbook that it would not get into.
func checkTank(tank layers.Tank, today layers.Date) error {
	var document bytes.Buffer
	err := layers.Encode(&document, []layers.Tank{tank})
	if err == nil {
		_, err = layers.Decode(&document, today)
	}
	var faults layers.Faults
	if errors.As(err, &faults) {
		return &shell.InputError{Faults: shell.Lines(faults)}
	}
	return err
}
