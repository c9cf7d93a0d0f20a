package page

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"panecore/layers"
	"panecore/layers/tag"
	"panecore/reports/figure"
)

//go:embed tags.html
var tagsPage string

// WriteTags writes a page of glass tags to print, as [figure.Tags] draws them, at their true size when printed at
// 100 %. Its errors are those of figure.Tags and of w.
func WriteTags(w io.Writer, list []tag.Tag, measured float64, u layers.Units) error {
	f, err := figure.Tags(list, measured, u)
	if err != nil {
		return err
	}
	text, err := template.New("tags").Parse(tagsPage)
	if err != nil {
		return fmt.Errorf("glass tags: %w", err)
	}
	p := newPicture(f)
	return text.Execute(w, struct {
		picture
		Height millimetres
	}{p, millimetres(f.Height)})
}
