package shell

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"panecore/reports/figure/pen"
)

// PictureFile is where a picture goes that is drawn instead of printing.
type PictureFile struct {
	OutFile
	kind PictureKind
}

// PictureKind is the ending of a picture's file, in lower case.
type PictureKind string

// The kinds of picture.
const (
	SVG PictureKind = ".svg"
	PNG PictureKind = ".png"
	PDF PictureKind = ".pdf"
)

// pixelsPerMM is how fine a PNG is (assumption: 200 dots an inch are sharp on a phone and
// pass on paper; who prints takes SVG or PDF).
const pixelsPerMM = 8

// AddTo adds the flags of a picture to a command, which has it checked before it runs.
func (p *PictureFile) AddTo(s *Shell, cmd *cobra.Command) {
	cmd.Flags().FuncP("out", "o", "draw it as `FILE`, which ends in .svg, .png or .pdf; - is SVG to standard output", func(path string) (err error) {
		p.Path = path
		p.kind, err = PictureKindOf(path)
		return err
	})
	p.AddForceFlag(cmd.Flags())
	cmd.PreRunE = func(cmd *cobra.Command, _ []string) error { return p.check(s, cmd) }
}

// PictureKindOf tells the kind of a picture by the ending of its name.
func PictureKindOf(path string) (PictureKind, error) {
	if path == "-" {
		return SVG, nil
	}
	switch kind := PictureKind(strings.ToLower(filepath.Ext(path))); kind {
	case SVG, PNG, PDF:
		return kind, nil
	}
	return "", fmt.Errorf("found %q, want a file name that ends in .svg, .png or .pdf", path)
}

// check says, before the work, what stands in the picture's way.
func (p *PictureFile) check(s *Shell, cmd *cobra.Command) error {
	switch {
	case !p.Wanted():
		return nil
	case s.JSON:
		return BadUsage(cmd, "found both --json and --out %s, a picture, want one of them", p.Path)
	}
	return s.MayPut(p.OutFile, "F.svg")
}

// Wanted reports whether there is a picture to draw.
func (p *PictureFile) Wanted() bool { return p.Path != "" }

// DrawPicture writes a picture to its place.
func (s *Shell) DrawPicture(to PictureFile, f *pen.Figure) error {
	content, err := EncodePicture(f, to.kind)
	if err != nil {
		return err
	}
	return s.Put(to.OutFile, content)
}

// EncodePicture is a picture as its file.
func EncodePicture(f *pen.Figure, kind PictureKind) (content []byte, err error) {
	var b bytes.Buffer
	switch kind {
	case SVG:
		err = f.WriteSVG(&b)
	case PNG:
		err = f.WritePNG(&b, pixelsPerMM)
	case PDF:
		err = f.WritePDF(&b)
	}
	return b.Bytes(), err
}
