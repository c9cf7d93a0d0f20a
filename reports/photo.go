package reports

import "panecore/layers"

// PhotoCore is a core that was read from a photo, and how.
type PhotoCore struct {
	Core
	Photo Photo `json:"photo"`
}

// Photo is how a photo was read.
type Photo struct {
	PxPerMM     float64     `json:"scale_px_per_mm"`
	RollDegrees float64     `json:"roll_degrees"` // of the depth axis, positive if its lower end leans left
	GlareShare  float64     `json:"glare_share"`  // of the strip that was masked
	Correction  Correction  `json:"correction"`
	Surface     Relief      `json:"surface"`
	Edges       []Relief    `json:"edges"` // each layer's lower one
	Lines       []Line      `json:"lines"` // the same in the picture: the surface, then each layer's lower edge
	SHA256      string      `json:"sha256"`
	Taken       layers.Date `json:"taken"` // by its EXIF; zero: unknown
	Warnings    []string    `json:"warnings"`
	TaughtBy    *TaughtBy   `json:"taught_by,omitempty"` // left out: no photo taught
	Marks       *PhotoMarks `json:"marks,omitempty"`     // by which it was read
	Found       []FoundMark `json:"found,omitempty"`     // those of the marks that no keeper set
	Water       *TopWater   `json:"water,omitempty"`     // left out: the uppermost layers don't look like water, or a keeper says that they are bed
}

// TopWater says that the uppermost layers of a reading look like water above the bed.
type TopWater struct {
	DepthMM float64 `json:"depth_mm"`  // down to which they do
	Surface float64 `json:"surface_y"` // the row that the bed surface is marked at if they are, pixels
}

// PhotoMarks are the marks that a photo was read by, in pixels of the upright picture.
type PhotoMarks struct {
	Strip   [4]float64   `json:"strip"`     // x, y, width, height
	Surface *float64     `json:"surface_y"` // the bed surface, roughly; null: the strip's top
	Ruler   [5]float64   `json:"ruler"`     // two points and their distance in mm
	Neutral [][4]float64 `json:"neutral"`   // grey cards
}

// FoundMark is a mark that was found in the picture by itself.
type FoundMark struct {
	Mark       string  `json:"mark"` // ruler, card, strip or surface
	Confidence float64 `json:"confidence"`
	Doubtful   bool    `json:"doubtful"` // to be checked before the numbers are believed
	Note       string  `json:"note"`     // what was found, and what that leaves open
}

// Correction is how a photo's colours were corrected, in linear light with white at 1.
type Correction struct {
	Cards         int        `json:"cards"` // grey cards that it rests on
	Gain          [3]float64 `json:"gain"`  // red, green, blue
	ExposureEV    float64    `json:"exposure_ev"`
	ExposureDoubt float64    `json:"exposure_doubt_ev"`
	Veil          float64    `json:"veil"` // stray light removed
}

// Line is an edge in the upright picture.
type Line struct {
	Pixels [][2]float64 `json:"pixels"` // x and y from left to right across the strip, about one a millimetre

	// Confidence is the probability that the edge's mean depth is right to 1 mm, by its error_mm. It says
	// nothing of whether what is above and below differs. The strip's lower end has 1.
	Confidence float64 `json:"confidence"`
}

// Relief is an edge as traced across the strip, with depths below the mean bed surface.
type Relief struct {
	ErrorMM   float64 `json:"error_mm"` // standard error of its mean depth
	HighestMM float64 `json:"highest_mm"`
	LowestMM  float64 `json:"lowest_mm"`
}
