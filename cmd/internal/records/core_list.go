package records

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports/table"
)

func newCoreListCommand(s *shell.Shell) *cobra.Command {
	var station string // empty: every one
	var all bool
	cmd := onTank(s, &cobra.Command{
		Use:   "list TANK",
		Short: "List a tank's cores",
		Long: `Lists a tank's cores by date. With --all also those that were amended, removed
or taken back, with when and how they ended: nothing is ever lost.`,
		Example: `  panecore core list kettle
  panecore core list kettle --station left --all
  panecore core list kettle --json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.InBook(cmd.Context(), false, func(book *logbook.Book) error {
				cores, err := book.Cores(cmd.Context(), args[0], all)
				if err != nil {
					return err
				}
				if station != "" {
					cores = slices.DeleteFunc(cores, func(c logbook.CoreEntry) bool { return c.Station != station })
				}
				return printCores(s, args[0], cores)
			})
		},
	})
	cmd.Flags().SortFlags = false
	cmd.Flags().Func("station", "only cores read at `STATION`", shell.Parsed(&station, layers.ParseName))
	cmd.Flags().BoolVar(&all, "all", false, "also cores that were amended, removed or taken back")
	completeStations(cmd, s)
	return cmd
}

func printCores(s *shell.Shell, tank string, cores []logbook.CoreEntry) error {
	if s.JSON {
		return shell.WriteJSON(s.Out, newCoreList(tank, cores))
	}
	entries := make([]table.CoreEntry, len(cores))
	for i, c := range cores {
		entries[i].Core = c.Core
		if !c.Stands() {
			how := strings.TrimPrefix(c.Until.What, fmt.Sprintf("%s of tank %q ", CoreName(c.Core), tank))
			entries[i].Ended = how + " " + c.Until.At.Format("2006-01-02 15:04 UTC")
		}
	}
	return s.PrintText(func(w io.Writer, o table.Options) error { return table.WriteCores(w, entries, o) })
}

type coreList struct {
	Format string      `json:"format"`
	Tank   string      `json:"tank"`
	Cores  []coreEntry `json:"cores"`
}

type coreEntry struct {
	Core  layers.Core  `json:"core"` // as in a logbook document
	Since changeEntry  `json:"since"`
	Until *changeEntry `json:"until"` // null: it stands
}

type changeEntry struct {
	At   time.Time `json:"at"`
	What string    `json:"what"`
}

func newCoreList(tank string, cores []logbook.CoreEntry) coreList {
	list := coreList{Format: "panecore-cores/1", Tank: tank, Cores: make([]coreEntry, len(cores))}
	for i, c := range cores {
		list.Cores[i] = coreEntry{Core: c.Core, Since: changeEntry(c.Since)}
		if !c.Stands() {
			until := changeEntry(c.Until)
			list.Cores[i].Until = &until
		}
	}
	return list
}
