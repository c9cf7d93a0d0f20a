package records

import (
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports/table"
)

func newTankListCommand(s *shell.Shell) *cobra.Command {
	var all bool
	cmd := &cobra.Command{
		Use:   "list",
		Short: "List the tanks",
		Example: `  panecore tank list
  panecore tank list --all --json`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return s.InBook(cmd.Context(), false, func(book *logbook.Book) error {
				tanks, err := book.List(cmd.Context(), all)
				if err != nil {
					return err
				}
				return printTanks(s, tanks)
			})
		},
	}
	cmd.Flags().BoolVar(&all, "all", false, "also the retired ones")
	return cmd
}

type tankList struct {
	Format string      `json:"format"`
	Tanks  []tankEntry `json:"tanks"`
}

type tankEntry struct {
	ID      string      `json:"id"`
	Name    string      `json:"name,omitempty"`
	Retired bool        `json:"retired"`
	Cores   int         `json:"cores"`
	Newest  layers.Date `json:"newest"` // of the cores; null: none
}

func printTanks(s *shell.Shell, tanks []logbook.TankEntry) error {
	if s.JSON {
		list := tankList{Format: "panecore-tanks/1", Tanks: []tankEntry{}}
		for _, t := range tanks {
			list.Tanks = append(list.Tanks, tankEntry(t))
		}
		return shell.WriteJSON(s.Out, list)
	}
	entries := make([]table.TankEntry, len(tanks))
	for i, t := range tanks {
		entries[i] = table.TankEntry(t)
	}
	return s.PrintText(func(w io.Writer, o table.Options) error { return table.WriteTanks(w, entries, o) })
}
