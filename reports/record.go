package reports

import "panecore/layers"

// Record is all that follows from one tank's records, for a report of it.
type Record struct {
	Tank       Tank
	Timeline   Timeline
	Oxygen     *OxygenProfile // nil: Lacking says why
	Rehearsals []Rehearsal    // the siphoning first; empty: Lacking says why
	Lacking    string         // what the physics lacks; empty: nothing
	Water      []WaterReading // by date
	Events     []EventMark    // by date, up to Timeline.AsOf
	SetUp      layers.Date    // zero: not given
}

// WaterReading is a water test with what it says of un-ionised ammonia.
type WaterReading struct {
	layers.WaterTest
	Unionised *float64 // mg N/L; nil: total ammonia, pH or temperature was not measured
	OverLimit bool     // above the limit that ReadAmmonia names
}

// NewRecord makes a tank's record.
func NewRecord(tank layers.Tank, s Settings) Record {
	found := Record{Timeline: NewTimeline(tank, s), SetUp: tank.SetUp}
	found.Events = found.Timeline.Events
	return found
}
