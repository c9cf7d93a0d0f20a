package judge

import (
	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/rules"
)

// Ask lists what should be asked of a core of a tank before it is filed, or after: empty, where
// it fits the record or its keeper has said that it is right.
func Ask(tank layers.Tank, core layers.Core, own []palette.Prototype, s reports.Settings) []reports.Question {
	others := make([]layers.Core, 0, len(tank.Cores)+1)
	for _, c := range tank.Cores {
		if c.Station != core.Station || c.Date != core.Date {
			others = append(others, c)
		}
	}
	tank.Cores = append(others, core)
	s.AsOf, s.Own = core.Date, func(string) []palette.Prototype { return own }
	c := rules.NewCase(infer.NewOutlook(tank, s), nil)
	for _, r := range c.Readings {
		if r.Core.Station == core.Station && r.Core.Date == core.Date && r.Doubted() {
			return []reports.Question{c.SlipQuestion(r)}
		}
	}
	return []reports.Question{}
}
