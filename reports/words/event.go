package words

import (
	"panecore/layers"
)

// Event tells an event: "siphon, 25 %, to 20 mm: note".
func Event(e layers.Event, u layers.Units) string {
	text := Spaced(e.Kind)
	for _, f := range layers.EventFields() {
		if !f.Needed && f.Input != layers.InputNote && f.Given(&e) {
			text += ", " + f.Said(&e, u)
		}
	}
	if e.Note != "" {
		text += ": " + e.Note
	}
	return text
}

// EventDated tells an event with its day before it: "2025-09-02 siphon, 25 %".
func EventDated(e layers.Event, u layers.Units) string {
	return e.Date.String() + " " + Event(e, u)
}
