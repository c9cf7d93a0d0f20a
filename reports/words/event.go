package words

import (
	"fmt"

	"panecore/layers"
	"panecore/reports"
)

// Event writes an event: "siphon, 25 %, to 20 mm: note".
func Event(e reports.EventMark, u layers.Units) string {
	text := Spaced(e.Kind)
	if e.Share != nil {
		text += fmt.Sprintf(", %.0f %%", 100**e.Share)
	}
	if e.DepthMM != nil {
		text += ", to " + OnRuler(u, *e.DepthMM) + " " + u.String()
	}
	if e.Note != "" {
		text += ": " + e.Note
	}
	return text
}

// EventDated writes an event after its day: "2025-09-02 siphon, 25 %".
func EventDated(e reports.EventMark, u layers.Units) string {
	return e.Date.String() + " " + Event(e, u)
}
