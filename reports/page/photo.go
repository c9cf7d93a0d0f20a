package page

import (
	"encoding/base64"
	"fmt"
	"html/template"

	"panecore/reports"
	"panecore/reports/words"
)

// shot is a photo with its overlay.
type shot struct {
	Reading reading
	Title   string
	Images  []shown
}

// shown is an image within the page.
type shown struct {
	URL           template.URL
	Text, Caption string
	Drawn         bool // it has small letters on it
}

func newShot(p Photo) (shot, error) {
	title := words.CoreTitle(reports.Core{Station: p.Station, Date: p.Date})
	s := shot{Reading: reading{p.Station, p.Date}, Title: title}
	for _, image := range []struct {
		file                []byte
		kind, text, caption string
		drawn               bool
	}{
		{p.Overlay, p.OverlayType, p.Text, "What was read, and what was set by hand, drawn on the photo.", true},
		{p.Picture, p.PictureType, "The same photo with nothing drawn on it.", "The photo itself.", false},
	} {
		if len(image.file) == 0 {
			continue
		}
		if image.kind != "image/jpeg" && image.kind != "image/png" {
			return shot{}, fmt.Errorf("photo of %s: found type %q, want image/jpeg or image/png", title, image.kind)
		}
		url := "data:" + image.kind + ";base64," + base64.StdEncoding.EncodeToString(image.file)
		s.Images = append(s.Images, shown{template.URL(url), image.text, image.caption, image.drawn})
	}
	return s, nil
}
