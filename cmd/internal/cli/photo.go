package cli

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/reports"
)

type photoOptions struct {
	file     string
	picks    photo.Picks
	native   []layers.Native
	settings reports.Settings
}

func newPhotoCommand(s *shell) *cobra.Command {
	var o photoOptions
	cmd := &cobra.Command{
		Use:     "photo FILE --strip X,Y,W,H --ruler X1,Y1,X2,Y2,LENGTH",
		GroupID: groupReadings,
		Short:   "Read the layers from a photo of the glass",
		Args:    oneArgument("FILE, a photo of the glass"),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			if err := requireFlags(cmd, "strip", "ruler"); err != nil {
				return err
			}
			return runPhoto(s, o)
		},
	}
	addPickFlags(cmd.Flags(), &o)
	o.settings = reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed}
	return cmd
}

func runPhoto(s *shell, o photoOptions) error {
	data, err := os.ReadFile(o.file)
	if err != nil {
		return err
	}
	p, err := picture.Decode(data)
	if err != nil {
		return badInput(o.file, err)
	}
	tank := layers.Tank{Native: o.native}
	reading, err := photo.Read(p, o.picks, reports.NewMatcher(tank, nil))
	if err != nil {
		var refusal *photo.Refusal
		if errors.As(err, &refusal) {
			return &unreadableError{o.file + ": " + refusal.Error()}
		}
		return err
	}
	core := reports.ReadCore(tank, reading.Core, nil, o.settings)
	if !s.json {
		fmt.Fprintln(s.out, core)
		return nil
	}
	return writeJSON(s.out, core)
}

// An unreadableError is a photo that can't be read honestly.
type unreadableError struct{ reason string }

func (e *unreadableError) Error() string { return e.reason }
