package reports

import "panecore/layers"

// TimelineFormat names the JSON form of a Timeline.
const TimelineFormat = "panecore-timeline/1"

// Timeline is a tank's record over time: each station's cores, the events between, and the trends.
type Timeline struct {
	Format       string         `json:"format"`
	ID           string         `json:"id"`
	Name         string         `json:"name"`
	AsOf         layers.Date    `json:"as_of"`
	SetUp        layers.Date    `json:"set_up"` // zero: not given
	Stations     []StationLine  `json:"stations"`
	Events       []layers.Event `json:"events"`
	Mulm         *Estimate      `json:"mulm_mm"`       // of the tank now
	OxicDepth    *Estimate      `json:"oxic_depth_mm"` // of the tank now
	Accumulation *Estimate      `json:"accumulation_mm_per_month"`
	FrontShift   *Estimate      `json:"front_shift_mm_per_month"`
	FloorShift   *Estimate      `json:"front_shift_from_floor_mm_per_month"` // null: the floor is not seen
	Watch        *Watch         `json:"watch"`
	LimitReached *Forecast      `json:"limit_reached"`
	Forecast     []TrendPoint   `json:"forecast"` // the tank's mulm from its newest core on; empty: the rate is not known
	Notices      []string       `json:"notices"`
}

// StationLine is a station's cores by date, and its own trends if it has any.
type StationLine struct {
	Station      string      `json:"station"`
	Cores        []Core      `json:"cores"`
	Accumulation *Estimate   `json:"accumulation_mm_per_month"`
	FrontShift   *Estimate   `json:"front_shift_mm_per_month"`
	Mulm         []TrendLine `json:"mulm_trend"`  // of the mulm's lower edge
	Front        []TrendLine `json:"front_trend"` // of the colour oxic depth
	Gaps         []Gap       `json:"gaps"`
}

// TrendLine is a station's course between two removals, a point at each of its readings.
type TrendLine struct {
	Points []TrendPoint `json:"points"`
}

// TrendPoint is a depth below the bed surface on a day, mm; low and high bound 90 %.
type TrendPoint struct {
	Date layers.Date `json:"date"`
	MM   float64     `json:"mm"`
	Low  float64     `json:"low"`
	High float64     `json:"high"`
}

// Gap is a time in which a station was not read, from the reading before to the one after.
type Gap struct {
	From  layers.Date `json:"from"`
	Until layers.Date `json:"until"`
}
