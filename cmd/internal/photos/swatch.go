package photos

import (
	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/layers/photo"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/judge"
	"panecore/reports/table"
)

type swatchOptions struct {
	file   string
	at     photo.Box
	cards  []photo.Card
	native []layers.Native
	tank   string // empty: none
}

// NewSwatchCommand reads one colour from a photo.
func NewSwatchCommand(s *shell.Shell) *cobra.Command {
	var o swatchOptions
	cmd := &cobra.Command{
		Use:     "swatch FILE|- --at X,Y,W,H",
		GroupID: shell.GroupReadings,
		Short:   "Read one colour from a photo, and the bands it may mean",
		Long: `Reads the colour in a box of the photo in the light that a grey card shows, how
much its grains differ from it, and the likeliest bands for it alone. You can
enter the colour with 'panecore core add', which says the same about it. Its
lightness is the camera's guess unless --neutral gives the card's.`,
		Example: `  panecore swatch front.jpg --at 930,520,180,40 --neutral 1389,194,129,81,18%
  panecore swatch front.jpg --at 930,520,180,40 --tank kettle --json`,
		Args: shell.OneArgument("FILE, a photo of the glass, or - for standard input"),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			return runSwatch(cmd, s, o)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.Func("at", "the colour in this part of the photo: `X,Y,W,H` in pixels of the upright picture", shell.Parsed(&o.at, parsePart))
	addCardFlag(flags, &o.cards)
	addLaidFlag(flags, &o.native)
	s.AddTankFlag(cmd, &o.tank, "what it may mean in `TANK`, with its native colours and your own")
	return cmd
}

func runSwatch(cmd *cobra.Command, s *shell.Shell, o swatchOptions) error {
	switch err := shell.RequireFlags(cmd, "at"); {
	case err != nil:
		return err
	case o.tank != "" && len(o.native) > 0:
		return shell.BadUsage(cmd, "found both --tank and --native, want one of them")
	}
	matcher, err := matcherOf(cmd, s, o)
	if err != nil {
		return err
	}
	shot, err := readShot(s, o.file)
	if err != nil {
		return err
	}
	found, err := photo.ReadSwatch(shot.Picture, o.at, o.cards)
	if err != nil {
		return shot.unreadable(err)
	}
	swatch := judge.NameSwatch(reports.Swatch{
		Hex: found.Color, Spread: found.Spread, MaskedShare: found.Masked, Cards: found.Cards, Gain: found.Gain,
		Warnings: append(found.Warnings, shot.profileWarning()...),
	}, matcher)
	return shell.Print(s, swatch, table.WriteSwatch)
}

// matcherOf knows the colours of the named tank, or those of the flags.
func matcherOf(cmd *cobra.Command, s *shell.Shell, o swatchOptions) (*palette.Matcher, error) {
	if o.tank == "" {
		return infer.NewMatcher(layers.Tank{Native: o.native}, nil), nil
	}
	var matcher *palette.Matcher
	err := s.Judge(cmd.Context(), o.tank, reports.Settings{}, s.JSON, func(_ *logbook.Book, tank layers.Tank, settings reports.Settings) error {
		matcher = infer.NewMatcher(tank, settings.Own(tank.ID))
		return nil
	})
	return matcher, err
}
