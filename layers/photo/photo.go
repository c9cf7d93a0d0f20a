// Package photo reads a bed's layers from a picture of the glass: scale and roll from a
// ruler, light from a grey card, layers by where their colour changes, bands through
// the palette with the doubt that the light leaves. It saves nothing.
//
// Depths are in millimetres down from the mean bed surface, pixels are those of the
// upright picture, light is linear with white at 1.
package photo

import (
	"panecore/layers"
	"panecore/layers/photo/picture"
	"panecore/palette"
)

// Picks are what a keeper marks on the picture.
type Picks struct {
	Strip    Box      // the part of the pane to read
	SurfaceY *float64 // the bed surface, roughly; nil: the strip's top
	Ruler    Ruler
	Neutral  []Card // grey cards; none: the light is less sure
}

// Refusal is the error for a photo that can't be read honestly.
type Refusal struct {
	Reason string // what is wrong with it
	Help   string // what would help
}

func (r *Refusal) Error() string { return r.Reason + "; " + r.Help }

// Reading is what a photo shows of a bed.
type Reading struct {
	Core        layers.Core // layers with colours under the light solved for, and their doubts
	Names       []palette.Band
	PxPerMM     float64
	RollDegrees float64
	GlareShare  float64        // of the strip's bed, masked
	Gain        palette.Linear // that the card gave
	Warnings    []string
}

// Read reads the layers in a picture's strip.
func Read(p *picture.Picture, picks Picks, matcher *palette.Matcher) (*Reading, error) {
	return nil, nil
}
