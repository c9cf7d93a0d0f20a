package records

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/table"
)

// NewBandsCommand lists, adds and removes the colours by which bands are named.
func NewBandsCommand(s *shell.Shell) *cobra.Command {
	var tank string
	list := &cobra.Command{
		Use:   "list",
		Short: "List the colours by which the bands are named",
		Long: `Lists the colours that each band is known to show, as 'panecore bands' does.

With --tank also what the tank's photos taught: every layer that you named or
confirmed in one, with its colour, and by how much the photos of each station
came out lighter or darker than their grey card, or the camera, led to expect.
The tank's next photo starts from that. Nothing of it is stored: it follows from
the names of the layers, so 'panecore undo', or 'panecore core amend' with
another name, takes it back.`,
		Example: `  panecore bands list --json
  panecore bands list --tank kettle`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return runBandsList(cmd.Context(), s, tank) },
	}
	s.AddTankFlag(list, &tank, "only your own colours that hold for `TANK`, and what its photos taught")
	bands := &cobra.Command{
		Use:     "bands",
		GroupID: shell.GroupReadings,
		Short:   "List the colours by which the bands are named",
		Long: `Lists the colours that each band is known to show, how far a layer may differ
from them (spread, CIEDE2000 units) and where they come from. Your own, from
'bands add', come first.`,
		Example: `  panecore bands
  panecore bands list --json
  panecore bands add mulm1 --hex '#6b4a2b' --band mulm-light --tank kettle`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return runBandsList(cmd.Context(), s, "") },
	}
	bands.AddCommand(list, newBandsAddCommand(s), newBandsRemoveCommand(s))
	return bands
}

func runBandsList(ctx context.Context, s *shell.Shell, tank string) error {
	own, lessons, err := colorsOf(ctx, s, tank)
	if err != nil {
		return err
	}
	prototypes := palette.Prototypes()
	if s.JSON {
		return shell.WriteJSON(s.Out, bandsOf(own, lessons, prototypes))
	}
	entries := make([]table.OwnPrototype, len(own))
	for i, p := range own {
		entries[i] = table.OwnPrototype(p)
	}
	return s.PrintText(func(w io.Writer, o table.Options) error {
		if err := table.WriteOwnBands(w, entries, o); err != nil {
			return err
		}
		if lessons != nil {
			if err := table.WriteLessons(w, *lessons, o); err != nil {
				return err
			}
		}
		return table.WriteBands(w, prototypes, o)
	})
}

// colorsOf lists the keeper's own colours. If a tank is named, they are those that hold for it, and lessons is what
// its photos taught. As long as there is no logbook there are none.
func colorsOf(ctx context.Context, s *shell.Shell, id string) (own []logbook.Prototype, lessons *reports.Lessons, err error) {
	if path, err := s.BookPath(); id == "" && (err != nil || !shell.IsThere(path)) {
		return nil, nil, nil
	}
	err = s.InBook(ctx, false, func(book *logbook.Book) (err error) {
		if own, err = book.Prototypes(ctx, id); err != nil || id == "" {
			return err
		}
		tank, err := book.Tank(ctx, id)
		if err != nil {
			return err
		}
		ofTank, err := shell.OwnColors(ctx, book)
		if err != nil {
			return err
		}
		taught := judge.Lessons(tank, ofTank(id))
		lessons = &taught
		return nil
	})
	return own, lessons, err
}

// bandsList is the JSON form of the colours; spread is in CIEDE2000 units.
type bandsList struct {
	Format           string         `json:"format"`
	Own              []ownPrototype `json:"own"`
	*reports.Lessons                // left out without a tank
	Prototypes       []prototype    `json:"prototypes"`
}

type ownPrototype struct {
	Name   string        `json:"name"`
	Tank   string        `json:"tank,omitempty"` // left out: it holds for every tank
	Band   palette.Band  `json:"band"`
	Hex    palette.Color `json:"hex"`
	Spread float64       `json:"spread"`
}

type prototype struct {
	Band   palette.Band  `json:"band"`
	Kind   string        `json:"kind,omitempty"`
	Hex    palette.Color `json:"hex"`
	Spread float64       `json:"spread"`
	Source string        `json:"source"`
}

func bandsOf(own []logbook.Prototype, lessons *reports.Lessons, prototypes []palette.Prototype) bandsList {
	list := bandsList{Format: "panecore-bands/1", Own: []ownPrototype{}, Lessons: lessons, Prototypes: []prototype{}}
	for _, p := range own {
		list.Own = append(list.Own, ownPrototype{p.Name, p.Tank, p.Band, p.Color, p.Spread})
	}
	for _, p := range prototypes {
		list.Prototypes = append(list.Prototypes, prototype{Band: p.Band, Kind: p.Kind, Hex: p.Color, Spread: p.Spread, Source: p.Source})
	}
	return list
}
