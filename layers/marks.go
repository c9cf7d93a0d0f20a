package layers

import (
	"encoding/json"
	"errors"
)

// Marks are what a keeper marked on a photo, in pixels of the upright picture, in the form in
// which they are kept beside it.
type Marks struct {
	Strip   [4]float64   `json:"strip"`             // left, top, width, height
	Surface *float64     `json:"surface,omitempty"` // the row of the bed surface; nil: found by itself, else the strip's top
	Ruler   [5]float64   `json:"ruler"`             // two points and the millimetres between them
	Plane   *[8]float64  `json:"plane,omitempty"`   // of the pane, as a tag on it shows; nil: seen straight on
	Neutral []GreyCard   `json:"neutral,omitempty"`
	Hidden  [][3]float64 `json:"hidden,omitempty"` // discs not to be read: across, down and radius
	Edges   []SetEdge    `json:"edges,omitempty"`  // of the reading, if one is bent: the bed surface, then each layer's lower one but the strip's foot
}

// GreyCard is a grey or white card in the picture.
type GreyCard struct {
	Box         [4]float64 `json:"box"`                   // left, top, width, height
	Reflectance float64    `json:"reflectance,omitempty"` // 0 to 1; left out: not given
}

// DecodeMarks reads marks as they were kept: JSON.
func DecodeMarks(text []byte) (m Marks, err error) {
	if err := json.Unmarshal(text, &m); err != nil {
		return m, errors.New("found picks that this program did not write: " + err.Error())
	}
	return m, nil
}
