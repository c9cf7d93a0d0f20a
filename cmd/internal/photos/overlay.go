package photos

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/reports/overlay"
)

// AddOverlayFlag adds the flag for the picture of a reading.
func AddOverlayFlag(flags *pflag.FlagSet, path *string) {
	flags.Func("overlay", "draw what was read on the photo, to `FILE`, a PNG", shell.Parsed(path, parseOverlayName))
}

// parseOverlayName takes the name of a PNG file.
func parseOverlayName(text string) (string, error) {
	if ending := filepath.Ext(text); ending != "" && !strings.EqualFold(ending, ".png") {
		return "", fmt.Errorf("found %q, want a file name that ends in .png", text)
	}
	return shell.ParseFileName(text)
}

// DrawOverlay draws a reading on its photo if a file is named for it.
func DrawOverlay(s *shell.Shell, to shell.OutFile, r *Reading) error {
	png, err := overlayFor(s, to, r)
	if err != nil {
		return err
	}
	return writeOverlay(s, to, png)
}

// overlayFor is the picture of a reading; nil if no file is named. The file must be writable.
func overlayFor(s *shell.Shell, to shell.OutFile, r *Reading) ([]byte, error) {
	if to.Path == "" {
		return nil, nil
	}
	if err := shell.MayWrite(to.Path, to.Force); err != nil {
		return nil, err
	}
	var png bytes.Buffer
	err := overlay.Write(&png, drawing(s.Units, r))
	return png.Bytes(), err
}

// drawing is what an overlay shows of a reading.
func drawing(u layers.Units, r *Reading) overlay.Drawing {
	return overlay.Drawing{Picture: r.Picture, Picks: r.picks, Reading: r.found, Core: r.Findings.Core, Units: u}
}

func writeOverlay(s *shell.Shell, to shell.OutFile, png []byte) error {
	if to.Path == "" {
		return nil
	}
	if err := shell.WriteFile(to.Path, to.Force, png); err != nil {
		return err
	}
	s.Note("overlay drawn: " + to.Path)
	return nil
}
