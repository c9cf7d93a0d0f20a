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
// on it, and photoNative the substrate's colour as one would have typed it.
var (
	//go:embed demo/photo.jpg
	demoPhoto []byte
	//go:embed demo/photo.json
	demoPicks []byte

	photoNative = layers.Native{Kind: layers.Sand, Color: palette.Color{R: 0xb0, G: 0x96, B: 0x77}}
)

type demoOptions struct {
	settings reports.Settings
	folder   string // where the pictures and pages go; empty: the findings are printed
	photo    bool
	overlay  string // where the photo's overlay goes; empty: none is drawn
	force    bool
}

func newDemoCommand(s *shell) *cobra.Command {
	var o demoOptions
	cmd := &cobra.Command{
		Use:     "demo",
		GroupID: groupReadings,
		Short:   "Print the findings of built-in records",
		Long: `Reads an invented logbook that is built into the program and prints its findings
as interpret does: five vessels of a tide mill, each read at two stations a
month over two years. With --out it writes all pictures and pages of them into a
folder. With --photo it reads a built-in photo of a bed instead, as the photo
command does. Nothing to set up, nothing is stored.`,
		Example: `  panecore demo
  panecore demo --units in
  panecore demo --json --history
  panecore demo --out demo
  panecore demo --photo --overlay check.png`,
		Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := o.check(cmd); err != nil {
				return err
			}
			switch {
			case o.photo:
				return runDemoPhoto(s, outFile{o.overlay, o.force})
			case o.folder != "":
				return runDemoFolder(s, o)
			}
			return runDemo(s, o.settings)
		},
	}
	flags := cmd.Flags()
	addFindingsFlags(flags, &o.settings, asOfNewest)
	flags.FuncP("out", "o", "write all pictures and pages into the folder `DIR`", parsed(&o.folder, parseFileName))
	flags.BoolVar(&o.photo, "photo", false, "read a built-in photo instead")
	addOverlayFlag(flags, &o.overlay)
	flags.BoolVar(&o.force, "force", false, "overwrite files that exist")
	return cmd
}

// check refuses flags that say nothing beside others.
func (o *demoOptions) check(cmd *cobra.Command) error {
	beside, silent := "without --photo", []string{"overlay"}
	switch {
	case o.photo:
		beside, silent = "with --photo", []string{"draws", "seed", "as-of", "history", "out"}
	case o.folder != "":
		beside, silent = "with --out", []string{"history", "overlay", "json"}
	}
	for _, flag := range silent {
		if cmd.Flags().Changed(flag) {
			return badUsage(cmd, "found --%s, which says nothing %s", flag, beside)
		}
	}
	return nil
}

func runDemo(s *shell, settings reports.Settings) error {
	findings, err := s.findingsOf(bytes.NewReader(demoLogbook), demoToday, settings)
	if err != nil {
		return err
	}
	s.note("invented records: no such tanks, no such keeper")
	return s.printFindings(findings)
}

// readDemoPhoto reads the built-in photo for a core of a tank, of which date and station
// are known.
func readDemoPhoto(core layers.Core, tank layers.Tank) (*shotReading, error) {
	shot, err := newShot("the demo's photo", demoPhoto)
	if err != nil {
		return nil, err
	}
	picks, err := decodePicks(demoPicks)
	if err != nil {
		return nil, err
	}
	return shot.read(picks, core, tank, nil)
}

func runDemoPhoto(s *shell, drawn outFile) error {
	r, err := readDemoPhoto(layers.Core{}, layers.Tank{Native: []layers.Native{photoNative}})
	if err != nil {
		return err
	}
	if err := s.drawOverlay(drawn, r); err != nil {
		return err
	}
	s.note("a rendered picture of an invented bed: no such tank, no such keeper")
	return s.printPhoto(r, drawn, []string{"Read one of your own: panecore help photos"})
}
