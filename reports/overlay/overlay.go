// Package overlay draws what was read from a photo back onto it, for a keeper to check:
// the strip, the traced edges, each layer's name and depths, the colour oxic depth, what
// was masked, the ruler's points and the grey cards. It computes nothing of what it shows.
package overlay

import (
	"image"
	"image/png"
	"io"

	"panecore/layers"
	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/reports"
)

// Drawing is what an overlay shows.
type Drawing struct {
	Picture *picture.Picture
	Picks   photo.Picks
	Reading *photo.Reading
	Core    reports.Core // what the reading's layers mean
	Units   layers.Units // of the lengths
}

// Write draws an overlay as a PNG, see [Draw]. Its errors are those of w.
func Write(w io.Writer, d Drawing) error { return png.Encode(w, Draw(d)) }

// Draw draws an overlay, whose longer side is at most 1600 pixels but where the names need
// more room. The same drawing gives the same pixels.
func Draw(d Drawing) image.Image {
	s := newSheet(d, newLetters())
	s.masked()
	s.edges()
	s.strip()
	s.marks()
	s.names()
	s.bracket()
	s.notes()
	return s.img
}
