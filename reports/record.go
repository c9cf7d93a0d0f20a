package reports

import "panecore/layers"

// Record is all that follows from one tank's records, for a report of it.
type Record struct {
	Tank         Tank // as Interpret has it
	Timeline     Timeline
	Oxygen       *OxygenProfile // with the default Lights; nil: Lacking says why
	Rehearsals   []Rehearsal    // the siphoning first; one that is missing: Lacking says why
	Lacking      string         // what the physics lacks, or the rehearsals alone; empty: nothing
	Water        []WaterReading // by date and time
	AmmoniaLimit float64        // in force, un-ionised, mg N/L
	Later        bool           // water tests or events were noted after the day that the tank is judged as of
}

// WaterReading is a water test with what it says of un-ionised ammonia.
type WaterReading struct {
	layers.WaterTest
	Unionised *float64 // mg N/L; nil: total ammonia, pH or temperature was not measured
	OverLimit bool     // above the tank's limit in force
}

// What a rehearsal rehearses where nothing else is asked for (common practice, no source).
// How deep to stir is a limit of the tank.
const (
	DefaultFloorShare = 0.25
	DefaultSiphonMM   = 10
)
