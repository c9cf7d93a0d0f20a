package records

import (
	"fmt"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/palette"
)

// usualSpread is the spread of a keeper's own colour if none is given, CIEDE2000
// units (assumption: as wide as the built-in ones of black and mulm).
const usualSpread = 5

func newBandsAddCommand(s *shell.Shell) *cobra.Command {
	p := logbook.Prototype{Spread: usualSpread}
	cmd := &cobra.Command{
		Use:   "add NAME --hex COLOUR --band BAND",
		Short: "Add a colour of your own that you know the meaning of",
		Long: `A colour of your own names layers as the built-in ones do, in one tank or in
all, and may be typed by its name: 'panecore core add kettle "18mm mulm1"'. NAME
is a word of letters, digits, '-' and '_' that is no band's name.`,
		Example: `  panecore bands add mulm1 --hex '#6b4a2b' --band mulm-light
  panecore bands add oldrust --hex '#8a4b2a' --band rust --spread 4 --tank vat`,
		Args: shell.OneArgument("NAME, a word of your own"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := shell.RequireFlags(cmd, "hex", "band"); err != nil {
				return err
			}
			p.Name = args[0]
			return s.Write(cmd.Context(), false, p.Called()+" added", func(book *logbook.Book) error {
				return book.AddPrototype(cmd.Context(), s.Env.Now(), p)
			})
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.Func("hex", "its `COLOUR`, '#' and six hexadecimal digits", shell.Parsed(&p.Color, palette.ParseColor))
	flags.Func("band", "the `BAND` it means", shell.Parsed(&p.Band, palette.ParseBand))
	s.AddTankFlag(cmd, &p.Tank, "it holds for `TANK` only (default: for every tank)")
	flags.Func("spread", fmt.Sprintf("how far a layer may differ from it, `D` in CIEDE2000 units, %v to %v (default %v)",
		logbook.MinSpread, logbook.MaxSpread, usualSpread), shell.Parsed(&p.Spread, layers.ParseNumber))
	shell.Complete(cmd, "band", bandNames()...)
	return cmd
}

// bandNames lists the bands that a colour may mean.
func bandNames() (names []string) {
	for _, band := range palette.Bands() {
		if band != palette.Unknown {
			names = append(names, band.String())
		}
	}
	return names
}

func newBandsRemoveCommand(s *shell.Shell) *cobra.Command {
	var tank string
	var yes bool
	cmd := &cobra.Command{
		Use:   "remove NAME",
		Short: "Remove a colour of your own",
		Example: `  panecore bands remove mulm1
  panecore bands remove oldrust --tank kettle --yes`,
		Args:              shell.OneArgument("NAME, that of a colour of your own"),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.Remove(cmd, logbook.Prototype{Name: args[0], Tank: tank}.Called(), yes, func(book *logbook.Book) error {
				return book.RemovePrototype(cmd.Context(), s.Env.Now(), tank, args[0])
			})
		},
	}
	cmd.Flags().SortFlags = false
	s.AddTankFlag(cmd, &tank, "that of `TANK` (default: that of every tank)")
	shell.AddYesFlag(cmd.Flags(), &yes)
	return cmd
}
