package judge

import (
	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
)

// ReadCore says what one core of a tank shows, by itself: its bands, mulm and colour oxic
// depth, each with its doubt.
func ReadCore(tank layers.Tank, core layers.Core, own []palette.Prototype, s reports.Settings) reports.Core {
	matcher := infer.NewMatcher(tank, own)
	return infer.ReadAlone(core, matcher, tank.ID, s)
}

// ReadPhotoCore is ReadCore for a core that was read from a photo; how says how, but
// for what the core itself says of it.
func ReadPhotoCore(tank layers.Tank, core layers.Core, own []palette.Prototype, how reports.Photo, s reports.Settings) reports.PhotoCore {
	read := ReadCore(tank, core, own, s)
	how.Surface, how.SHA256 = *read.Surface, read.Photo
	how.Edges = make([]reports.Relief, len(read.Layers))
	for i, l := range read.Layers {
		how.Edges[i] = *l.Edge
	}
	return reports.PhotoCore{Core: read, Photo: roundedPhoto(how)}
}

// The digits of how a photo was read.
const (
	scaleDigits = 3 // px/mm
	angleDigits = 2 // degrees
	stopDigits  = 2
)

func roundedPhoto(p reports.Photo) reports.Photo {
	p.PxPerMM, p.RollDegrees, p.GlareShare = reports.Round(p.PxPerMM, scaleDigits), reports.Round(p.RollDegrees, angleDigits), reports.Round(p.GlareShare, reports.ShareDigits)
	c := &p.Correction
	for i := range c.Gain {
		c.Gain[i] = reports.Round(c.Gain[i], reports.ShareDigits)
	}
	c.ExposureEV, c.ExposureDoubt, c.Veil = reports.Round(c.ExposureEV, stopDigits), reports.Round(c.ExposureDoubt, stopDigits), reports.Round(c.Veil, reports.ShareDigits)
	if p.Warnings == nil {
		p.Warnings = []string{}
	}
	return p
}
