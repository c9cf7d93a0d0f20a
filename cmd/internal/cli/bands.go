package cli

import (
	"io"

	"github.com/spf13/cobra"

	"panecore/palette"
	"panecore/reports/table"
)

func newBandsCommand(s *shell) *cobra.Command {
	list := &cobra.Command{
		Use:     "list",
		Short:   "List the colours by which the bands are named",
		Example: "  panecore bands list --json",
		Args:    noArguments,
		RunE:    func(*cobra.Command, []string) error { return runBandsList(s) },
	}
	bands := &cobra.Command{
		Use:     "bands",
		GroupID: groupReadings,
		Short:   "List the colours by which the bands are named",
		Long: `Lists the colours that each band is known to show, how far a layer may differ
from them (spread, CIEDE2000 units) and where they come from.`,
		Example: `  panecore bands
  panecore bands list --json`,
		Args: noArguments,
		RunE: list.RunE,
	}
	bands.AddCommand(list)
	return bands
}

func runBandsList(s *shell) error {
	prototypes := palette.Prototypes()
	if s.json {
		return writeJSON(s.out, bandsOf(prototypes))
	}
	return s.printText(func(w io.Writer, o table.Options) error { return table.WriteBands(w, prototypes, o) })
}

// bandsList is the JSON form of the colours; spread is in CIEDE2000 units.
type bandsList struct {
	Format     string      `json:"format"`
	Prototypes []prototype `json:"prototypes"`
}

type prototype struct {
	Band   palette.Band  `json:"band"`
	Kind   string        `json:"kind,omitempty"`
	Hex    palette.Color `json:"hex"`
	Spread float64       `json:"spread"`
	Source string        `json:"source"`
}

func bandsOf(prototypes []palette.Prototype) bandsList {
	list := bandsList{Format: "panecore-bands/1", Prototypes: []prototype{}}
	for _, p := range prototypes {
		list.Prototypes = append(list.Prototypes, prototype{Band: p.Band, Kind: p.Kind, Hex: p.Color, Spread: p.Spread, Source: p.Source})
	}
	return list
}
