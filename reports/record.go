package reports

import (
	"sync"

	"panecore/layers"
)

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

// NewRecord makes a tank's record. Records after the day it is judged as of are left out;
// where it has no core and no day was asked for, none are.
func NewRecord(tank layers.Tank, s Settings) Record {
	var sim simulation
	o, found := sim.judge(tank, s)
	r := Record{Tank: found, Timeline: o.timeline(&sim, found, s), AmmoniaLimit: o.limits[layers.LimitAmmonia].value}
	r.Later = len(o.tank.Water) < len(tank.Water) || len(o.tank.Events) < len(tank.Events)
	for _, test := range o.tank.Water {
		r.Water = append(r.Water, newWaterReading(test, r.AmmoniaLimit))
	}
	r.physics(o, s)
	return r
}

// physics fills in the oxygen and the rehearsals, drawn at once.
func (r *Record) physics(o *outlook, s Settings) {
	var (
		crew       sync.WaitGroup
		profile    OxygenProfile
		rehearsals [2]Rehearsal
		lacking    [1 + len(rehearsals)]error
	)
	crew.Go(func() {
		profile, lacking[0] = o.oxygen(s, Lights{On: DefaultLightsOn, Hours: DefaultLitHours})
	})
	crew.Go(func() {
		rehearsals[0], lacking[1] = o.rehearse(s, MethodSiphon, DefaultFloorShare, DefaultSiphonMM)
	})
	crew.Go(func() {
		rehearsals[1], lacking[2] = o.rehearse(s, MethodStir, DefaultFloorShare, o.limits[layers.LimitStirDepth].value)
	})
	crew.Wait()
	if lacking[0] == nil {
		r.Oxygen = &profile
	}
	for i, err := range lacking[1:] {
		if err == nil {
			r.Rehearsals = append(r.Rehearsals, rehearsals[i])
		}
	}
	for _, err := range lacking {
		if err != nil {
			r.Lacking = err.Error()
			return
		}
	}
}

// newWaterReading is a water test beside a limit of un-ionised ammonia, mg N/L. What lies
// outside the ranges of [ReadAmmonia] says nothing.
func newWaterReading(test layers.WaterTest, limit float64) WaterReading {
	w := WaterReading{WaterTest: test}
	if test.TotalAmmonia == nil || test.PH == nil || test.TemperatureC == nil {
		return w
	}
	read, err := ReadAmmonia(*test.TotalAmmonia, *test.PH, *test.TemperatureC)
	if err != nil {
		return w
	}
	w.Unionised, w.OverLimit = ptrTo(round(read.UnionisedN, ammoniaDigits)), read.UnionisedN > limit
	return w
}
