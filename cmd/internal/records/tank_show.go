package records

import (
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports/table"
)

func newTankShowCommand(s *shell.Shell) *cobra.Command {
	return onTank(s, &cobra.Command{
		Use:   "show TANK",
		Short: "Show what is known about a tank, except its readings",
		Example: `  panecore tank show kettle
  panecore tank show kettle --json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.InBook(cmd.Context(), false, func(book *logbook.Book) error {
				tank, err := book.Tank(cmd.Context(), args[0])
				if err != nil {
					return err
				}
				retired, err := isRetired(cmd.Context(), book, args[0])
				if err != nil {
					return err
				}
				return printTank(s, tank, retired)
			})
		},
	})
}

// tankCard is the JSON form of a tank besides its readings.
type tankCard struct {
	Format  string       `json:"format"`
	Tank    layers.Tank  `json:"tank"` // as in a logbook document
	Retired bool         `json:"retired"`
	Cores   int          `json:"cores"`
	Water   int          `json:"water"`
	Events  int          `json:"events"`
	Newest  *layers.Date `json:"newest"` // of the cores; null: none
}

func printTank(s *shell.Shell, tank layers.Tank, retired bool) error {
	if !s.JSON {
		return s.PrintText(func(w io.Writer, o table.Options) error { return table.WriteTank(w, tank, retired, o) })
	}
	card := tankCard{Format: "panecore-tank/1", Retired: retired,
		Cores: len(tank.Cores), Water: len(tank.Water), Events: len(tank.Events)}
	if n := len(tank.Cores); n > 0 {
		card.Newest = &tank.Cores[n-1].Date
	}
	tank.Cores, tank.Water, tank.Events = nil, nil, nil
	card.Tank = tank
	return shell.WriteJSON(s.Out, card)
}
