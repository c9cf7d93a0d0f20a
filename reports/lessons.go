package reports

import (
	"panecore/layers"
	"panecore/palette"
)

// Lessons are what the layers that a keeper has named in a tank's photos teach about its next photo.
type Lessons struct {
	Colors []LearnedColor `json:"learned"`       // by band, the newest first
	Lights []LearnedLight `json:"learned_light"` // by station
}

// LearnedColor is a band's colour as one photo showed it.
type LearnedColor struct {
	Band    palette.Band  `json:"band"`
	Hex     palette.Color `json:"hex"`    // as the bed looks in white light
	Spread  float64       `json:"spread"` // root-mean-square CIEDE2000
	Date    layers.Date   `json:"date"`   // of the photo
	Station string        `json:"station"`
}

// LearnedLight is by how many photographic stops the photos of a station come out darker than their card, or the lack
// of one, leads to expect.
type LearnedLight struct {
	Station       string  `json:"station"`
	ExposureEV    float64 `json:"exposure_ev"`       // to add; negative: they come out lighter
	ExposureDoubt float64 `json:"exposure_doubt_ev"` // its standard deviation
	Photos        int     `json:"photos"`
}

// TaughtBy counts the photos that taught how to read another one of their tank.
type TaughtBy struct {
	Photos    int `json:"photos"`
	OfStation int `json:"of_station"` // the part of them that show the same place
}
