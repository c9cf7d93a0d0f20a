package layers

import (
	"slices"
)

// Event is something done to the tank or that befell it.
type Event struct {
	Date    Date
	Kind    EventKind
	Share   *float64 // of the floor or the water, 0 to 1
	DepthMM *float64
	Note    string
}

// EventFields are the fields of an event, all of which tell it from others.
func EventFields() []Field[Event] { return eventTable.fields }

var eventTable = tableOf(nil,
	field("date", dateKind(), func(e *Event) *Date { return &e.Date }).needed().
		seen(Words{Label: "Day", Head: "date", Flag: "date", Usage: "it happened on `DATE`, YYYY-MM-DD"}),
	field("kind", oneWord(events), func(e *Event) *EventKind { return &e.Kind }).needed().
		seen(Words{Label: "What was done or happened", Head: "event"}),
	field("share", optional(shareRange), func(e *Event) **float64 { return &e.Share }).
		seen(Words{Label: "Share of the floor or the water", Head: "share", Flag: "share",
			Usage: "`SHARE` of the floor, or of the water that was changed, as in 25%", Decimals: 1}),
	field("depth_mm", optional(depthRange), func(e *Event) **float64 { return &e.DepthMM }).
		seen(Words{Label: "Down to", Head: "depth", Before: "to", Flag: "depth", Usage: "down to `DEPTH` below the bed surface, as in 20mm"}),
	field("note", noteKind(), func(e *Event) *string { return &e.Note }).
		seen(Words{Label: "Note", Head: "note", Flag: "note", Usage: "a `NOTE` in your own words"}),
)

// MarshalJSON writes the event as a document does.
func (e Event) MarshalJSON() ([]byte, error) { return eventTable.marshal(&e) }

// EventKind names an event.
type EventKind string

// The kinds of event. Signs of trouble stand here too: they are seen between readings.
const (
	EventStir           EventKind = "stir"
	EventSiphon         EventKind = "siphon"
	EventWaterChange    EventKind = "water-change"
	EventTopUpSubstrate EventKind = "top-up-substrate"
	EventReplant        EventKind = "replant"
	EventDeadAnimal     EventKind = "dead-animal"
	EventPlantMelt      EventKind = "plant-melt"
	EventGasping        EventKind = "gasping"
	EventEggSmell       EventKind = "egg-smell"
	EventWhiteThreads   EventKind = "white-threads"
	EventNote           EventKind = "note"
)

var events = []EventKind{EventStir, EventSiphon, EventWaterChange, EventTopUpSubstrate, EventReplant,
	EventDeadAnimal, EventPlantMelt, EventGasping, EventEggSmell, EventWhiteThreads, EventNote}

// EventKinds lists the kinds of event.
func EventKinds() []EventKind { return slices.Clone(events) }

// Splits reports whether an event breaks a record: what was there before is no longer there
// to grow.
func (k EventKind) Splits() bool {
	return k == EventSiphon || k == EventStir || k == EventTopUpSubstrate
}
