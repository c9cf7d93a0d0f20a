package reports

import (
	"slices"

	"panecore/layers"
)

// OverviewFormat names the JSON form of an Overview.
const OverviewFormat = "panecore-overview/1"

// Overview is every tank, a line each, the most pressing first.
type Overview struct {
	Format string         `json:"format"`
	Today  layers.Date    `json:"today"`
	Tanks  []OverviewLine `json:"tanks"`
}

// OverviewLine is a tank's findings in short.
type OverviewLine struct {
	ID           string      `json:"id"`
	Name         string      `json:"name"`
	Action       Action      `json:"action,omitempty"` // empty: no core has been read
	Confidence   float64     `json:"confidence"`
	Clarity      Clarity     `json:"clarity,omitempty"`
	LimitedBy    []string    `json:"limited_by"`
	WaterFirst   []string    `json:"water_first"` // see Advice
	Reliable     bool        `json:"reliable"`    // false: a newest core is from a photo that is not reliable
	Mulm         *Estimate   `json:"mulm_mm"`
	OxicDepth    *Estimate   `json:"oxic_depth_mm"`
	Accumulation *Estimate   `json:"accumulation_mm_per_month"`
	FrontShift   *Estimate   `json:"front_shift_mm_per_month"`
	FloorShift   *Estimate   `json:"front_shift_from_floor_mm_per_month"`
	Watch        *Watch      `json:"watch"`
	LastReading  layers.Date `json:"last_reading"`
	DaysSince    *int        `json:"days_since"`
	NextReading  layers.Date `json:"next_reading"`
	Due          bool        `json:"due"`

	Cores []Core `json:"-"` // each station's newest
	How   string `json:"-"` // the action in one sentence

	WaitDays int `json:"-"` // of the advice
}

// OnlyDue keeps the tanks that are due today.
func (o Overview) OnlyDue() Overview {
	o.Tanks = slices.DeleteFunc(slices.Clone(o.Tanks), func(l OverviewLine) bool { return !l.Due })
	return o
}
