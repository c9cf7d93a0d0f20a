package records

import (
	"bytes"
	"context"
	"encoding/json"
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports/table"
)

func newTankShowCommand(s *shell.Shell) *cobra.Command {
	return &cobra.Command{
		Use:   "show TANK",
		Short: "Show all that is known of a tank besides its readings",
		Example: `  panecore tank show kettle
  panecore tank show kettle --json`,
		Args:              shell.OneArgument(wantTank),
		ValidArgsFunction: s.CompleteTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runTankShow(cmd.Context(), s, args[0])
		},
	}
}

func runTankShow(ctx context.Context, s *shell.Shell, id string) error {
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		tank, err := book.Tank(ctx, id)
		if err != nil {
			return err
		}
		retired, err := isRetired(ctx, book, id)
		if err != nil {
			return err
		}
		return printTank(s, tank, retired)
	})
}

// tankCard is the JSON form of a tank besides its readings.
type tankCard struct {
	Format  string          `json:"format"`
	Tank    json.RawMessage `json:"tank"` // as in a logbook document
	Retired bool            `json:"retired"`
	Cores   int             `json:"cores"`
	Water   int             `json:"water"`
	Events  int             `json:"events"`
	Newest  *layers.Date    `json:"newest"` // of the cores; null: none
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
	var err error
	if card.Tank, err = encodeTank(tank); err != nil {
		return err
	}
	return shell.WriteJSON(s.Out, card)
}

// encodeTank writes a tank as it stands in a logbook document.
func encodeTank(tank layers.Tank) (json.RawMessage, error) {
	var text bytes.Buffer
	if err := layers.Encode(&text, []layers.Tank{tank}); err != nil {
		return nil, err
	}
	var document struct{ Tanks []json.RawMessage }
	if err := json.Unmarshal(text.Bytes(), &document); err != nil {
		return nil, err
	}
	return document.Tanks[0], nil
}
