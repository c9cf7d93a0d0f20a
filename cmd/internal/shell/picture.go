package shell

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/reports/figure/pen"
	"panecore/reports/table"
)

// PictureFile is the file for a picture that a command draws instead of printing.
type PictureFile struct {
	OutFile
	kind PictureKind
}

// PictureKind is the ending of a picture's file name, in lower case.
type PictureKind string

// The kinds of picture.
const (
	SVG PictureKind = ".svg"
	PNG PictureKind = ".png"
	PDF PictureKind = ".pdf"
)

// pixelsPerMM is the resolution of a PNG (assumption: 200 dots per inch are sharp on a phone and
// good enough on paper; SVG and PDF are better for print).
const pixelsPerMM = 8

// AddTo adds the flags of a picture to a command, and has it check them before it runs.
func (p *PictureFile) AddTo(s *Shell, cmd *cobra.Command) {
	cmd.Flags().FuncP("out", "o", "draw it to `FILE`, which ends in .svg, .png or .pdf; - is SVG to standard output", func(path string) (err error) {
		p.Path = path
		p.kind, err = PictureKindOf(path)
		return err
	})
	p.AddForceFlag(cmd.Flags())
	cmd.PreRunE = func(cmd *cobra.Command, _ []string) error { return p.check(s, cmd) }
}

// PictureKindOf is the kind of a picture by the ending of its file name.
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

// check is the error that would prevent the picture, known before the work.
func (p *PictureFile) check(s *Shell, cmd *cobra.Command) error {
	switch {
	case !p.Wanted():
		return nil
	case s.JSON:
		return BadUsage(cmd, "found both --json and --out %s, a picture, want one of them", p.Path)
	}
	return s.MayPut(p.OutFile, "F.svg")
}

// Wanted reports whether a picture was asked for.
func (p *PictureFile) Wanted() bool { return p.Path != "" }

// DrawPicture writes a picture to its file.
func (s *Shell) DrawPicture(to PictureFile, f *pen.Figure) error {
	content, err := EncodePicture(f, to.kind)
	if err != nil {
		return err
	}
	return s.Put(to.OutFile, content)
}

// Show draws a value where a picture is wanted, else it prints it.
func Show[T any](s *Shell, to PictureFile, value T, draw func(T, layers.Units) *pen.Figure, write func(io.Writer, T, table.Options) error) error {
	if to.Wanted() {
		return s.DrawPicture(to, draw(value, s.Units))
	}
	return Print(s, value, write)
}

// EncodePicture is the content of a picture's file.
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
