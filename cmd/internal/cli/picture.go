package cli

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"panecore/reports/figure/pen"
)

// pictureFile is where a picture goes that is drawn instead of printing.
type pictureFile struct {
	outFile
	kind pictureKind
}

// pictureKind is the ending of a picture's file, in lower case.
type pictureKind string

const (
	svgPicture pictureKind = ".svg"
	pngPicture pictureKind = ".png"
	pdfPicture pictureKind = ".pdf"
)

// pixelsPerMM is how fine a PNG is (assumption: 200 dots an inch are sharp on a phone and
// pass on paper; who prints takes SVG or PDF).
const pixelsPerMM = 8

// addTo adds the flags of a picture to a command, which has it checked before it runs.
func (p *pictureFile) addTo(s *shell, cmd *cobra.Command) {
	cmd.Flags().FuncP("out", "o", "draw it as `FILE`, which ends in .svg, .png or .pdf; - is SVG to standard output", func(path string) (err error) {
		p.path = path
		p.kind, err = pictureKindOf(path)
		return err
	})
	p.addForceFlag(cmd.Flags())
	cmd.PreRunE = func(cmd *cobra.Command, _ []string) error { return p.check(s, cmd) }
}

// pictureKindOf tells the kind of a picture by the ending of its name.
func pictureKindOf(path string) (pictureKind, error) {
	if path == "-" {
		return svgPicture, nil
	}
	switch kind := pictureKind(strings.ToLower(filepath.Ext(path))); kind {
	case svgPicture, pngPicture, pdfPicture:
		return kind, nil
	}
	return "", fmt.Errorf("found %q, want a file name that ends in .svg, .png or .pdf", path)
}

// check says, before the work, what stands in the picture's way.
func (p *pictureFile) check(s *shell, cmd *cobra.Command) error {
	switch {
	case !p.wanted():
		return nil
	case s.json:
		return badUsage(cmd, "found both --json and --out %s, a picture, want one of them", p.path)
	}
	return s.mayPut(p.outFile, "F.svg")
}

func (p *pictureFile) wanted() bool { return p.path != "" }

// drawPicture writes a picture to its place.
func (s *shell) drawPicture(to pictureFile, f *pen.Figure) error {
	content, err := encodePicture(f, to.kind)
	if err != nil {
		return err
	}
	return s.put(to.outFile, content)
}

func encodePicture(f *pen.Figure, kind pictureKind) (content []byte, err error) {
	var b bytes.Buffer
	switch kind {
	case svgPicture:
		err = f.WriteSVG(&b)
	case pngPicture:
		err = f.WritePNG(&b, pixelsPerMM)
	case pdfPicture:
		err = f.WritePDF(&b)
	}
	return b.Bytes(), err
}
