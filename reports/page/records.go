package page

import (
	"strings"

	"panecore/reports"
	"panecore/reports/words"
)

// water are the water tests.
type water struct {
	Limit string // for un-ionised ammonia, with its unit
	Tests []test
}

// test is a row of the water tests; empty cells were not measured.
type test struct {
	Date, Time                   string
	PH, Celsius, Ammonia, Oxygen string
	Unionised                    string
	OverLimit                    bool
}

func newWater(r reports.Record) water {
	m := words.Ammonia()
	v := water{Limit: m.Plain(r.AmmoniaLimit) + " " + m.Unit, Tests: make([]test, len(r.Water))}
	ph := aligned(r.Water, 2, func(t reports.WaterReading) *float64 { return t.PH })
	celsius := aligned(r.Water, 1, func(t reports.WaterReading) *float64 { return t.TemperatureC })
	ammonia := aligned(r.Water, 3, func(t reports.WaterReading) *float64 { return t.TotalAmmonia })
	oxygen := aligned(r.Water, 2, func(t reports.WaterReading) *float64 { return t.OxygenMGPerL })
	unionised := aligned(r.Water, 4, func(t reports.WaterReading) *float64 { return t.Unionised })
	for i, t := range r.Water {
		v.Tests[i] = test{t.Date.String(), t.Time, ph[i], celsius[i], ammonia[i], oxygen[i], unionised[i], t.OverLimit}
	}
	return v
}

// aligned writes a number of every test with the same decimals, as many as one of them needs
// but at most most. It is empty where nothing was measured.
func aligned(tests []reports.WaterReading, most int, of func(reports.WaterReading) *float64) []string {
	cells, needed := make([]string, len(tests)), 0
	for _, t := range tests {
		if x := of(t); x != nil {
			_, fraction, _ := strings.Cut(strings.TrimRight(words.Number(*x, most), "0"), ".")
			needed = max(needed, len(fraction))
		}
	}
	for i, t := range tests {
		if x := of(t); x != nil {
			cells[i] = words.Number(*x, needed)
		}
	}
	return cells
}
