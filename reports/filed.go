package reports

import "panecore/layers"

// Filed is what became of a photo that was to be filed.
type Filed string

// What may become of a photo.
const (
	FiledNew      Filed = "filed"
	FiledBefore   Filed = "known"    // the logbook already had this reading
	FiledDoubtful Filed = "doubtful" // filed, but not to be relied on before it is looked at
	FiledNot      Filed = "refused"
)

// FiledPhoto is one photo of many that were to be filed.
type FiledPhoto struct {
	File    string      `json:"file"`
	Outcome Filed       `json:"outcome"`
	Tank    string      `json:"tank,omitempty"` // left out: refused before it was known
	Station string      `json:"station,omitempty"`
	Date    layers.Date `json:"date,omitzero"`
	Why     []string    `json:"why"`            // it is doubtful or refused
	Core    *PhotoCore  `json:"core,omitempty"` // left out: refused
}
