package reports

import (
	"panecore/layers"
	"panecore/palette"
)

// ReadCore says what one core of a tank shows, by itself: its bands, mulm and colour oxic
// depth, each with its doubt.
func ReadCore(tank layers.Tank, core layers.Core, own []palette.Prototype, s Settings) Core {
	matcher := NewMatcher(tank, own)
	var draws coreDraws
	return draws.alone(newReading(core, matcher), matcher, tank.ID, s)
}

// PhotoCore is a core that was read from a photo, and how.
type PhotoCore struct {
	Core
	Photo Photo `json:"photo"`
}

// Photo is how a photo was read.
type Photo struct {
	PxPerMM     float64     `json:"scale_px_per_mm"`
	RollDegrees float64     `json:"roll_degrees"` // of the depth axis, positive where its foot goes to the left
	GlareShare  float64     `json:"glare_share"`  // of the strip that was masked
	Correction  Correction  `json:"correction"`
	Surface     Relief      `json:"surface"`
	Edges       []Relief    `json:"edges"` // each layer's lower one
	SHA256      string      `json:"sha256"`
	Taken       layers.Date `json:"taken"` // by its own record; zero: it has none
	Warnings    []string    `json:"warnings"`
}

// Correction is what was done to a photo's colours, in linear light with white at 1.
type Correction struct {
	Cards         int        `json:"cards"` // grey cards that it stands on
	Gain          [3]float64 `json:"gain"`  // red, green, blue
	ExposureEV    float64    `json:"exposure_ev"`
	ExposureDoubt float64    `json:"exposure_doubt_ev"`
	Veil          float64    `json:"veil"` // stray light taken off
}

// Relief is an edge as it was traced across the strip, depths down from the mean bed
// surface.
type Relief struct {
	ErrorMM   float64 `json:"error_mm"` // standard error of its mean depth
	HighestMM float64 `json:"highest_mm"`
	LowestMM  float64 `json:"lowest_mm"`
}

// ReadPhotoCore is ReadCore for a core that was read from a photo; how says how, but
// for what the core itself says of it.
func ReadPhotoCore(tank layers.Tank, core layers.Core, own []palette.Prototype, how Photo, s Settings) PhotoCore {
	read := ReadCore(tank, core, own, s)
	how.Surface, how.SHA256 = *read.Surface, read.Photo
	how.Edges = make([]Relief, len(read.Layers))
	for i, l := range read.Layers {
		how.Edges[i] = *l.Edge
	}
	return PhotoCore{read, how.rounded()}
}

func reliefOf(e layers.Edge) Relief {
	return Relief{round(e.ErrorMM, lengthDigits), round(e.HighestMM, lengthDigits), round(e.LowestMM, lengthDigits)}
}

// The digits of how a photo was read.
const (
	scaleDigits = 3 // px/mm
	angleDigits = 2 // degrees
	stopDigits  = 2
)

func (p Photo) rounded() Photo {
	p.PxPerMM, p.RollDegrees, p.GlareShare = round(p.PxPerMM, scaleDigits), round(p.RollDegrees, angleDigits), round(p.GlareShare, shareDigits)
	c := &p.Correction
	for i := range c.Gain {
		c.Gain[i] = round(c.Gain[i], shareDigits)
	}
	c.ExposureEV, c.ExposureDoubt, c.Veil = round(c.ExposureEV, stopDigits), round(c.ExposureDoubt, stopDigits), round(c.Veil, shareDigits)
	if p.Warnings == nil {
		p.Warnings = []string{}
	}
	return p
}
