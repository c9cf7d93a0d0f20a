package reports

import "panecore/layers"

// Record is all that follows from one tank's records, for its report.
type Record struct {
	Tank         Tank // as from judge.Interpret
	Timeline     Timeline
	Oxygen       *OxygenProfile // with the default Lights; nil: Lacking says why
	Rehearsals   []Rehearsal    // siphoning first; if one is missing, Lacking says why
	Lacking      string         // what the physics or only the rehearsals lack; empty: nothing
	Water        []WaterReading // by date and time
	AmmoniaLimit float64        // in force, un-ionised, mg N/L
	Later        bool           // there are water tests or events after the day the tank is judged as of
}

// WaterReading is a water test with its un-ionised ammonia.
type WaterReading struct {
	layers.WaterTest
	Unionised *float64 // mg N/L; nil: total ammonia, pH or temperature was not measured
	OverLimit bool     // above the tank's limit in force
}

// The defaults of a rehearsal, a share of 0 to 1 and mm (common practice, no source). The depth to
// stir to is a limit of the tank.
const (
	DefaultFloorShare = 0.25
	DefaultSiphonMM   = 10
)
