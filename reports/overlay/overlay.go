// Package overlay draws what was read from a photo onto that photo, for a keeper to check: the
// strip, the traced edges, each layer's name and depths, the colour oxic depth, the masked
// parts, the ruler's points and the grey cards. It computes nothing that it shows.
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

// Drawing is the content of an overlay.
type Drawing struct {
	Picture *picture.Picture
	Picks   photo.Picks
	Reading *photo.Reading
	Core    reports.Core // what the layers mean
	Units   layers.Units // of lengths
}

// Write writes an overlay as a PNG, see [Image]. Its errors are those of w.
func Write(w io.Writer, d Drawing) error { return png.Encode(w, Image(d)) }

// Image draws an overlay. Its longer side is at most 1600 pixels unless the names need more
// room. The same drawing gives the same pixels.
func Image(d Drawing) image.Image {
	v := newCanvas(d)
	v.masked()
	v.edges()
	v.strip()
	v.marks()
	v.names()
	v.bracket()
	v.notes()
	return v.img
}
