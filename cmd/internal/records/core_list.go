package records

import (
	"context"
	"encoding/json"
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

type coreListOptions struct {
	station string // empty: every one
	all     bool
}

func newCoreListCommand(s *shell.Shell) *cobra.Command {
	var o coreListOptions
	cmd := &cobra.Command{
		Use:   "list TANK",
		Short: "List a tank's cores",
		Long: `Lists a tank's cores by date. With --all also those that were amended, removed
or taken back, with when and how they ended: nothing is ever lost.`,
		Example: `  panecore core list kettle
  panecore core list kettle --station left --all
  panecore core list kettle --json`,
		Args:              shell.OneArgument(wantTank),
		ValidArgsFunction: s.CompleteTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCoreList(cmd.Context(), s, args[0], o)
		},
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().Func("station", "only cores read at `STATION`", shell.Parsed(&o.station, layers.ParseName))
	cmd.Flags().BoolVar(&o.all, "all", false, "also cores that were amended, removed or taken back")
	completeStations(cmd, s)
	return cmd
}

func runCoreList(ctx context.Context, s *shell.Shell, tank string, o coreListOptions) error {
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		cores, err := book.Cores(ctx, tank, o.all)
		if err != nil {
			return err
		}
		if o.station != "" {
			cores = slices.DeleteFunc(cores, func(c logbook.CoreEntry) bool { return c.Station != o.station })
		}
		return printCores(s, tank, cores)
	})
}

func printCores(s *shell.Shell, tank string, cores []logbook.CoreEntry) error {
	if s.JSON {
		list, err := newCoreList(tank, cores)
		if err != nil {
			return err
		}
		return shell.WriteJSON(s.Out, list)
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

// coreList is the JSON form of the list of cores.
type coreList struct {
	Format string      `json:"format"`
	Tank   string      `json:"tank"`
	Cores  []coreEntry `json:"cores"`
}

type coreEntry struct {
	Core  json.RawMessage `json:"core"` // as in a logbook document
	Since changeEntry     `json:"since"`
	Until *changeEntry    `json:"until"` // null: it stands
}

type changeEntry struct {
	At   time.Time `json:"at"`
	What string    `json:"what"`
}

func newCoreList(tank string, cores []logbook.CoreEntry) (coreList, error) {
	list := coreList{Format: "panecore-cores/1", Tank: tank, Cores: make([]coreEntry, len(cores))}
	plain := make([]layers.Core, len(cores))
	for i, c := range cores {
		plain[i] = c.Core
	}
	document, err := encodeTank(layers.Tank{ID: tank, Cores: plain})
	if err != nil {
		return list, err
	}
	var encoded struct{ Cores []json.RawMessage }
	if err := json.Unmarshal(document, &encoded); err != nil {
		return list, err
	}
	for i, c := range cores {
		list.Cores[i] = coreEntry{Core: encoded.Cores[i], Since: changeEntry(c.Since)}
		if !c.Stands() {
			until := changeEntry(c.Until)
			list.Cores[i].Until = &until
		}
	}
	return list, nil
}
