package cli

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/tag"
	"panecore/reports/figure"
	"panecore/reports/page"
)

// tagOptions are the flags for glass tags.
type tagOptions struct {
	tags     []tag.Tag // sizes are set last
	size     float64   // mm
	measured float64   // what a printed line of 100 mm is long, mm
}

// mostTags is how many tags one sheet may have (assumption).
const mostTags = 24

// What a printed line of 100 mm may be long, mm: a printer that fits a page to its paper makes it 93 to 97
// (assumption).
const leastMeasured, greatestMeasured = 80.0, 120.0

func addTagFlags(cmd *cobra.Command, o *tagOptions) {
	flags := cmd.Flags()
	flags.Func("tag", "make a glass tag for `TANK/STATION` instead; once for each", func(text string) error {
		if len(o.tags) == mostTags {
			return fmt.Errorf("found one more, %q, want at most %d", text, mostTags)
		}
		tank, station, err := tag.ParsePlace(text)
		o.tags = append(o.tags, tag.Tag{Tank: tank, Station: station})
		return err
	})
	o.size, o.measured = tag.UsualSize, 100
	flags.Func("size", "make tags of `LENGTH` from mark to mark (default 40mm)", lengthWithin(&o.size, tag.LeastSize, tag.GreatestSize))
	flags.Func("measured", "a line of 100 mm came out as `LENGTH` when printed: print it true", lengthWithin(&o.measured, leastMeasured, greatestMeasured))
}

// lengthWithin reads a length between two, mm.
func lengthWithin(to *float64, least, greatest float64) func(string) error {
	return func(text string) error {
		mm, err := layers.ParseLength(text)
		if err == nil && !(mm >= least && mm <= greatest) {
			err = fmt.Errorf("found %q, want %g to %g mm", text, least, greatest)
		}
		*to = mm
		return err
	}
}

// sized are the tags with their size.
func (o *tagOptions) sized() []tag.Tag {
	for i := range o.tags {
		o.tags[i].SizeMM = o.size
	}
	return o.tags
}

// check refuses names that are too long for a tag.
func (o *tagOptions) check() error {
	for _, t := range o.sized() {
		if _, err := tag.NewCode(t); err != nil {
			return err
		}
	}
	return nil
}

// encode draws the tags in the format of a file name.
func (o *tagOptions) encode(s *shell.Shell, path string) ([]byte, error) {
	kind, err := shell.PictureKindOf(path)
	if err != nil || path == "-" {
		var b bytes.Buffer
		err := page.WriteTags(&b, o.sized(), o.measured, s.Units)
		return b.Bytes(), err
	}
	f, err := figure.Tags(o.sized(), o.measured, s.Units)
	if err != nil {
		return nil, err
	}
	return shell.EncodePicture(f, kind)
}

// parseSheetName takes the name of a file that a sheet can be written to, or - for standard output.
func parseSheetName(path string) (string, error) {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".html", ".svg", ".png", ".pdf":
		return path, nil
	}
	if path == "-" {
		return path, nil
	}
	return "", fmt.Errorf("found %q, want a file name that ends in .html, or for tags also .pdf, .svg or .png", path)
}
