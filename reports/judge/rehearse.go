package judge

import (
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/rehearsal"
)

// Rehearse works out a stir or a siphoning of a share of the floor, down to a depth in
// mm, for the tank as last read. Its error is an [InputError].
func Rehearse(tank layers.Tank, s reports.Settings, m reports.Method, share, depthMM float64) (reports.Rehearsal, error) {
	var sim infer.Simulation
	c, _ := judge(&sim, tank, s)
	return rehearsal.Rehearse(c, s, m, share, depthMM)
}

// DeepestMM is how deep a tank can be rehearsed, mm: as far as the shallowest of the cores
// that it stands on was seen; 0 where there is none.
func DeepestMM(tank layers.Tank, s reports.Settings) float64 {
	o := infer.NewOutlook(tank, s)
	if len(o.Newest) == 0 {
		return 0
	}
	return o.FloorMM()
}

// Oxygen works out the oxygen profile of a tank as last read. Its error is an [InputError].
func Oxygen(tank layers.Tank, s reports.Settings, lights reports.Lights) (reports.OxygenProfile, error) {
	return rehearsal.Oxygen(infer.NewOutlook(tank, s), s, lights)
}
