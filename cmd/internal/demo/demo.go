// Package demo has invented records, a rendered photo, and the command that shows them.
package demo

import (
	"bytes"
	_ "embed"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/photos"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// document is an invented logbook: five vessels over more than two years.
//
//go:embed logbook.json
var document []byte

// farDay, 2100-01-01, is after every date of the demo, so that it reads the same on any day.
const farDay layers.Date = 47482

// photoFile is a rendered photo of an invented bed, photoMarks what a keeper would mark on it, and
// photoNative the substrate's colour as a keeper would enter it.
var (
	//go:embed photo.jpg
	photoFile []byte
	//go:embed photo.json
	photoMarks []byte

	photoNative = layers.Native{Kind: layers.Sand, Color: palette.Color{R: 0xb0, G: 0x96, B: 0x77}}
)

type options struct {
	settings reports.Settings
	folder   string // where the pictures and pages go; empty: the findings are printed
	photo    bool
	overlay  string // where the photo's overlay goes; empty: none is drawn
	force    bool
}

// NewCommand shows the built-in records.
func NewCommand(s *shell.Shell) *cobra.Command {
	var o options
	cmd := &cobra.Command{
		Use:     "demo",
		GroupID: shell.GroupReadings,
		Short:   "Print the findings of built-in records",
		Long: `Reads an invented logbook that is built into the program and prints its findings
as interpret does: five vessels of a tide mill, each read monthly at two
stations for two years. With --out it writes all their pictures and pages into a
folder. With --photo it reads a built-in photo of a bed instead, as the photo
command does. There is nothing to set up, and nothing is stored.`,
		Example: `  panecore demo
  panecore demo --units in
  panecore demo --json --history
  panecore demo --out demo
  panecore demo --photo --overlay check.png`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := o.check(cmd); err != nil {
				return err
			}
			switch {
			case o.photo:
				return runPhoto(s, shell.OutFile{Path: o.overlay, Force: o.force})
			case o.folder != "":
				return runFolder(s, o)
			}
			return run(s, o.settings)
		},
	}
	flags := cmd.Flags()
	shell.AddFindingsFlags(flags, &o.settings, shell.AsOfNewest)
	flags.FuncP("out", "o", "write all pictures and pages into the folder `DIR`", shell.Parsed(&o.folder, shell.ParseFileName))
	flags.BoolVar(&o.photo, "photo", false, "read a built-in photo instead")
	photos.AddOverlayFlag(flags, &o.overlay)
	flags.BoolVar(&o.force, "force", false, "overwrite files that exist")
	return cmd
}

// check refuses flags that have no effect with others.
func (o *options) check(cmd *cobra.Command) error {
	given, without := "without --photo", []string{"overlay"}
	switch {
	case o.photo:
		given, without = "with --photo", []string{"draws", "seed", "as-of", "history", "out"}
	case o.folder != "":
		given, without = "with --out", []string{"history", "overlay", "json"}
	}
	for _, flag := range without {
		if cmd.Flags().Changed(flag) {
			return shell.BadUsage(cmd, "found --%s, which has no effect %s", flag, given)
		}
	}
	return nil
}

func run(s *shell.Shell, settings reports.Settings) error {
	findings, err := s.FindingsOf(bytes.NewReader(document), farDay, settings)
	if err != nil {
		return err
	}
	s.Note("invented records: no such tanks, no such keeper")
	return s.PrintFindings(findings)
}

// readPhoto reads the built-in photo for a core of a tank.
func readPhoto(core layers.Core, tank layers.Tank) (*photos.Reading, error) {
	shot, err := photos.NewShot("the demo's photo", photoFile)
	if err != nil {
		return nil, err
	}
	picks, err := photos.DecodePicks(photoMarks)
	if err != nil {
		return nil, err
	}
	return shot.Read(picks, core, tank, nil)
}

func runPhoto(s *shell.Shell, drawn shell.OutFile) error {
	r, err := readPhoto(layers.Core{}, layers.Tank{Native: []layers.Native{photoNative}})
	if err != nil {
		return err
	}
	if err := photos.DrawOverlay(s, drawn, r); err != nil {
		return err
	}
	s.Note("a rendered picture of an invented bed: no such tank, no such keeper")
	return photos.PrintPhoto(s, r, drawn, []string{"Read one of your own: panecore help photos"})
}
