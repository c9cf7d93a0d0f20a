package layers

import (
	"slices"

	"math"

	"panecore/palette"
)

// Tank is one vessel and all that its keeper has written down of it.
type Tank struct {
	ID           string
	Name         string // empty: not given
	SetUp        Date   // zero: not given
	Vessel       *Vessel
	Flow         Flow  // empty: not given
	Burrowers    *bool // nil: not given
	RootedPlants *bool // nil: not given
	Native       []Native
	Limits       Limits
	Cores        []Core
	Water        []WaterTest
	Events       []Event
}

// Vessel is the tank's shape, inside measures in millimetres.
type Vessel struct {
	Shape        Shape
	LengthMM     float64 // box only
	WidthMM      float64 // box only
	DiameterMM   float64 // cylinder only
	WaterDepthMM float64
}

// Shape is the vessel's form.
type Shape string

// The shapes.
const (
	Box      Shape = "box"
	Cylinder Shape = "cylinder"
)

// Flow is how the water is moved.
type Flow string

// The kinds of flow.
const (
	Still     Flow = "still"
	Livestock Flow = "livestock" // moved by animals only
	Bubbled   Flow = "bubbled"
	Pumped    Flow = "pumped"
)

// Native is a substrate as it was laid: what its colour was on set-up day.
type Native struct {
	Name        string
	Kind        Kind
	Color       palette.Color
	ThicknessMM float64 // zero: not given
}

// Kind is the sort of a native substrate.
type Kind string

// The kinds of native substrate.
const (
	Sand     Kind = "sand"
	Gravel   Kind = "gravel"
	Clay     Kind = "clay"
	Soil     Kind = "soil"
	Granules Kind = "granules"
)

// Core is one side-view profile, its layers listed top to bottom.
type Core struct {
	Date    Date
	Station string
	Lit     *bool // whether light reaches the glass there; nil: not given
	Signs   []Sign
	Note    string
	Sure    bool // the keeper was asked whether it is right and said so
	Layers  []Layer
	Photo   *Photo // what it was read from; nil: by eye
}

// Photo says what a core was read from and what the picture leaves in doubt.
type Photo struct {
	SHA256     string        // of the file, 64 lower-case hexadecimal digits
	ColorDoubt float64       // of each layer's colour by itself, root-mean-square CIEDE2000
	Light      palette.Light // what all its colours share
	ScaleError float64       // standard error of the millimetres, as a share of them
	Surface    Edge          // the bed surface, depths from its mean
	Unreliable bool          // the layers may be other than told
}

// Edge is a boundary as it was traced across a photo's strip.
type Edge struct {
	ErrorMM   float64 // standard error of its mean depth
	HighestMM float64 // the least depth across the strip
	LowestMM  float64 // the greatest
}

// Stations lists where the tank was read, in the order of names.
func (t Tank) Stations() []string {
	var stations []string
	for _, core := range t.Cores {
		stations = append(stations, core.Station)
	}
	slices.Sort(stations)
	return slices.Compact(stations)
}

// UsualStation is the station that is meant where none is named: the tank's only one, or
// else "front".
func (t Tank) UsualStation() string {
	if stations := t.Stations(); len(stations) == 1 {
		return stations[0]
	}
	return "front"
}

// DepthMM is how far down the core was seen: the sum of its layers.
func (c Core) DepthMM() float64 {
	var depth float64
	for _, layer := range c.Layers {
		depth += layer.ThicknessMM
	}
	return depth
}

// Layer is a thickness and a colour as seen.
type Layer struct {
	ThicknessMM float64
	Color       palette.Color
	Band        palette.Band // the keeper's own label; NoBand: not given
	Note        string
	Edge        *Edge // its lower boundary as traced in a photo; nil: read by eye
}

// Sign is something seen at a reading besides the layers.
type Sign string

// The signs.
const (
	GasBubbles   Sign = "gas-bubbles"
	EggSmell     Sign = "egg-smell"
	PlantMelt    Sign = "plant-melt"
	DeadAnimal   Sign = "dead-animal"
	Gasping      Sign = "gasping"
	WhiteThreads Sign = "white-threads"
	RootsDeep    Sign = "roots-deep"
	Burrowers    Sign = "burrowers"
)

// WaterTest is one set of water readings; nil fields were not measured.
type WaterTest struct {
	Date         Date
	Time         string // HH:MM, empty: not given
	PH           *float64
	TemperatureC *float64
	TotalAmmonia *float64 // mg N/L
	OxygenMGPerL *float64
}

// Event is something done to the tank or that befell it.
type Event struct {
	Date    Date
	Kind    EventKind
	Share   *float64 // of the floor or the water, 0 to 1
	DepthMM *float64
	Note    string
}

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

// Splits reports whether an event breaks a record: what was there before is no longer there
// to grow.
func (k EventKind) Splits() bool {
	return k == EventSiphon || k == EventStir || k == EventTopUpSubstrate
}

// FootprintM2 is the area of the vessel's floor, m².
func (v Vessel) FootprintM2() float64 {
	if v.Shape == Cylinder {
		radius := v.DiameterMM / 2000
		return math.Pi * radius * radius
	}
	return v.LengthMM / 1000 * v.WidthMM / 1000
}

// WaterM3 is the volume of the vessel's water, m³.
func (v Vessel) WaterM3() float64 { return v.FootprintM2() * v.WaterDepthMM / 1000 }
