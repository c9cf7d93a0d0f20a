package reports

import "panecore/palette"

// SwatchFormat names the JSON form of a Swatch.
const SwatchFormat = "panecore-swatch/1"

// Swatch is one colour of a photo in corrected light, and what it may mean.
type Swatch struct {
	Format      string        `json:"format"`
	Hex         palette.Color `json:"hex"`
	Lab         [3]float64    `json:"lab"`    // CIE L*, a*, b* (D65)
	Spread      float64       `json:"spread"` // of the marked pixels about it, root-mean-square CIEDE2000
	MaskedShare float64       `json:"masked_share"`
	Bands       []Meaning     `json:"bands"` // the likeliest first
	Cards       int           `json:"cards"` // grey cards that the correction rests on
	Gain        [3]float64    `json:"gain"`  // red, green, blue, in linear light
	Warnings    []string      `json:"warnings"`
}

// Meaning is a band that a colour by itself may be.
type Meaning struct {
	Band        palette.Band `json:"band"`
	Kind        string       `json:"kind,omitempty"` // of a native substrate
	Probability float64      `json:"probability"`
}
