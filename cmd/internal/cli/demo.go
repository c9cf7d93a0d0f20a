package cli

import (
	"bytes"
	_ "embed"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// demoLogbook is an invented logbook: five vessels over two years and more.
//
//go:embed demo/logbook.json
var demoLogbook []byte

// demoToday, 2100-01-01, lies behind every date of the demo, so that it reads the
// same whatever the clock says.
const demoToday layers.Date = 47482

// demoPhoto is a rendered photo of an invented bed, demoPicks what a keeper would mark
// on it, and demoNative the substrate's colour as one would have typed it.
var (
	//go:embed demo/photo.jpg
	demoPhoto []byte
	//go:embed demo/photo.json
	demoPicks []byte

	demoNative = layers.Native{Kind: layers.Sand, Color: palette.Color{R: 0xb0, G: 0x96, B: 0x77}}
)

type demoOptions struct {
	settings reports.Settings
	photo    bool
	overlay  overlayFile
}

func newDemoCommand(s *shell) *cobra.Command {
	var o demoOptions
	cmd := &cobra.Command{
		Use:     "demo",
		GroupID: groupReadings,
		Short:   "Print the findings of built-in records",
		Long: `Reads an invented logbook that is built into the program and prints its findings
as interpret does: five vessels of a tide mill, each read at two stations a
month over two years. With --photo it reads a built-in photo of a bed instead,
as the photo command does. Nothing to set up, nothing is stored.`,
		Example: `  panecore demo
  panecore demo --units in
  panecore demo --json --history
  panecore demo --photo --overlay check.png`,
		Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			of := []string{"overlay", "force"}
			if o.photo {
				of = []string{"draws", "seed", "as-of", "history"}
			}
			for _, flag := range of {
				if cmd.Flags().Changed(flag) {
					return badUsage(cmd, "found --%s, which says nothing %s --photo", flag, map[bool]string{true: "with", false: "without"}[o.photo])
				}
			}
			if o.photo {
				return runDemoPhoto(s, o.overlay)
			}
			return runDemo(s, o.settings)
		},
	}
	addFindingsFlags(cmd.Flags(), &o.settings)
	cmd.Flags().BoolVar(&o.photo, "photo", false, "read a built-in photo instead")
	addOverlayFlags(cmd.Flags(), &o.overlay)
	return cmd
}

func runDemo(s *shell, settings reports.Settings) error {
	findings, err := s.findingsOf(bytes.NewReader(demoLogbook), demoToday, settings)
	if err != nil {
		return err
	}
	s.note("invented records: no such tanks, no such keeper")
	return s.printFindings(findings)
}

func runDemoPhoto(s *shell, drawn overlayFile) error {
	shot, err := newShot("the demo's photo", demoPhoto)
	if err != nil {
		return err
	}
	picks, err := decodePicks(demoPicks)
	if err != nil {
		return err
	}
	r, err := shot.read(picks, layers.Core{}, layers.Tank{Native: []layers.Native{demoNative}}, nil)
	if err != nil {
		return err
	}
	if err := s.drawOverlay(drawn, r); err != nil {
		return err
	}
	s.note("a rendered picture of an invented bed: no such tank, no such keeper")
	return s.printPhoto(r, drawn, []string{"Read one of your own: panecore help photos"})
}
