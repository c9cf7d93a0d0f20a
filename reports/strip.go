package reports

import (
	"image"

	"panecore/layers"
)

// Strip is the part of the pane that a core was read from, cut from its photo upright, to scale and in corrected light.
type Strip struct {
	Station string
	Date    layers.Date
	WidthMM float64
	AboveMM float64     // how far it begins above the bed surface
	DepthMM float64     // how far it reaches below it
	Picture image.Image // nil: it is fetched from Address
	Address string
	Carded  bool // a grey card fixed its tint
}

// Change is where the bed changed between two photos of a station, from the bed surface down.
type Change struct {
	Strips     [2]Strip  // before and after
	CellMM     float64   // the side of a cell
	Width      int       // cells across
	Difference []float64 // row by row, CIEDE2000; 0: within the doubt; not a number: not seen in both
	Least      float64   // the median of what a difference must exceed to be told; 0: nothing is seen in both
	Share      float64   // of what is seen in both: how much of it changed
	LightEV    float64   // stops by which the later photo's light was taken down to match
}
