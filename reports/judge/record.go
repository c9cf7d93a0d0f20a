package judge

import (
	"sync"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/rehearsal"
	"panecore/reports/rules"
)

// NewRecord makes a tank's record, without what was noted after the day it is judged as of.
func NewRecord(tank layers.Tank, s reports.Settings) reports.Record {
	var sim infer.Simulation
	c, found := judge(&sim, tank, s)
	r := reports.Record{Tank: found, Timeline: timeline(c.Outlook, &sim, found, s), AmmoniaLimit: c.Limit(layers.LimitAmmonia)}
	r.Later = len(c.Tank.Water) < len(tank.Water) || len(c.Tank.Events) < len(tank.Events)
	for _, test := range c.Tank.Water {
		r.Water = append(r.Water, newWaterReading(test, r.AmmoniaLimit))
	}
	addPhysics(&r, c, s)
	return r
}

// addPhysics fills in the oxygen and the rehearsals, drawn concurrently.
func addPhysics(r *reports.Record, c *rules.Case, s reports.Settings) {
	var (
		crew       sync.WaitGroup
		profile    reports.OxygenProfile
		rehearsals [2]reports.Rehearsal
		lacking    [1 + len(rehearsals)]error
	)
	crew.Go(func() {
		profile, lacking[0] = rehearsal.Oxygen(c.Outlook, s, reports.Lights{On: reports.DefaultLightsOn, Hours: reports.DefaultLitHours})
	})
	crew.Go(func() {
		rehearsals[0], lacking[1] = rehearsal.Rehearse(c, s, reports.MethodSiphon, reports.DefaultFloorShare, reports.DefaultSiphonMM)
	})
	crew.Go(func() {
		rehearsals[1], lacking[2] = rehearsal.Rehearse(c, s, reports.MethodStir, reports.DefaultFloorShare, c.Limit(layers.LimitStirDepth))
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

// newWaterReading compares a water test with a limit of un-ionised ammonia, mg N/L. Numbers outside
// the ranges of [ReadAmmonia] leave it unknown.
func newWaterReading(test layers.WaterTest, limit float64) reports.WaterReading {
	w := reports.WaterReading{WaterTest: test}
	if test.TotalAmmonia == nil || test.PH == nil || test.TemperatureC == nil {
		return w
	}
	read, err := ReadAmmonia(*test.TotalAmmonia, *test.PH, *test.TemperatureC)
	if err != nil {
		return w
	}
	w.Unionised, w.OverLimit = new(reports.Round(read.UnionisedN, reports.AmmoniaDigits)), read.UnionisedN > limit
	return w
}

// Rehearse works out stirring or siphoning a share of the floor, 0 to 1, down to a depth in mm, for
// the tank as last read. Its error is a [reports.InputError].
func Rehearse(tank layers.Tank, s reports.Settings, m reports.Method, share, depthMM float64) (reports.Rehearsal, error) {
	var sim infer.Simulation
	c, _ := judge(&sim, tank, s)
	return rehearsal.Rehearse(c, s, m, share, depthMM)
}

// DeepestMM is how deep a tank can be rehearsed, mm: as deep as the shallowest of its newest cores
// was seen; 0 if there is none.
func DeepestMM(tank layers.Tank, s reports.Settings) float64 {
	o := infer.NewOutlook(tank, s)
	if len(o.Newest) == 0 {
		return 0
	}
	return o.FloorMM()
}

// Oxygen works out the oxygen profile of a tank as last read. Its error is a
// [reports.InputError].
func Oxygen(tank layers.Tank, s reports.Settings, lights reports.Lights) (reports.OxygenProfile, error) {
	return rehearsal.Oxygen(infer.NewOutlook(tank, s), s, lights)
}
