package photos

import (
	"io"

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
	tank   string // empty: the colours of no tank
}

// NewSwatchCommand reads one colour from a photo.
func NewSwatchCommand(s *shell.Shell) *cobra.Command {
	var o swatchOptions
	cmd := &cobra.Command{
		Use:     "swatch FILE|- --at X,Y,W,H",
		GroupID: shell.GroupReadings,
		Short:   "Read one colour from a photo, and the bands it may mean",
		Long: `Reads the colour in a box of the photo under the light that a grey card tells,
how much its grains differ from it, and the likeliest bands that it may mean by
itself. The colour can be typed into 'panecore core add', which says the same of
it. How light it is remains the camera's word unless --neutral tells how light
the card is.`,
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
	s.AddTankFlag(cmd, &o.tank, "what it may mean in `TANK`, by its native colours and your own")
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
	if s.JSON {
		return shell.WriteJSON(s.Out, swatch)
	}
	return s.PrintText(func(w io.Writer, o table.Options) error { return table.WriteSwatch(w, swatch, o) })
}

// matcherOf knows the colours of the tank that is named, or of the flags.
func matcherOf(cmd *cobra.Command, s *shell.Shell, o swatchOptions) (*palette.Matcher, error) {
	if o.tank == "" {
		return infer.NewMatcher(layers.Tank{Native: o.native}, nil), nil
	}
	ctx := cmd.Context()
	var tank layers.Tank
	var settings reports.Settings
	err := s.InBook(ctx, false, func(book *logbook.Book) (err error) {
		if tank, err = book.Tank(ctx, o.tank); err != nil {
			return err
		}
		return s.Settle(ctx, book, &settings, s.JSON)
	})
	if err != nil {
		return nil, err
	}
	return infer.NewMatcher(tank, settings.Own(tank.ID)), nil
}
