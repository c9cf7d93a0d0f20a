package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports/table"
)

type coreListOptions struct {
	station string // empty: every one
	all     bool
}

func newCoreListCommand(s *shell) *cobra.Command {
	var o coreListOptions
	cmd := &cobra.Command{
		Use:   "list TANK",
		Short: "List a tank's cores",
		Long: `Lists a tank's cores by date. With --all also those that were amended, removed
or taken back, with when and how they ended: nothing is ever lost.`,
		Example: `  panecore core list kettle
  panecore core list kettle --station left --all
  panecore core list kettle --json`,
		Args:              oneArgument(wantTank),
		ValidArgsFunction: s.completeTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCoreList(cmd.Context(), s, args[0], o)
		},
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().Func("station", "only cores read at `STATION`", parsed(&o.station, layers.ParseName))
	cmd.Flags().BoolVar(&o.all, "all", false, "also cores that were amended, removed or taken back")
	s.completeStations(cmd)
	return cmd
}

func runCoreList(ctx context.Context, s *shell, tank string, o coreListOptions) error {
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		cores, err := book.Cores(ctx, tank, o.all)
		if err != nil {
			return err
		}
		if o.station != "" {
			cores = slices.DeleteFunc(cores, func(c logbook.CoreEntry) bool { return c.Station != o.station })
		}
		return s.printCores(tank, cores)
	})
}

func (s *shell) printCores(tank string, cores []logbook.CoreEntry) error {
	if s.json {
		list, err := newCoreList(tank, cores)
		if err != nil {
			return err
		}
		return writeJSON(s.out, list)
	}
	entries := make([]table.CoreEntry, len(cores))
	for i, c := range cores {
		entries[i].Core = c.Core
		if !c.Stands() {
			how := strings.TrimPrefix(c.Until.What, fmt.Sprintf("%s of tank %q ", coreName(c.Core), tank))
			entries[i].Ended = how + " " + c.Until.At.Format("2006-01-02 15:04 UTC")
		}
	}
	return s.printText(func(w io.Writer, o table.Options) error { return table.WriteCores(w, entries, o) })
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
