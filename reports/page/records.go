package page

import (
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// water are the water tests and what they are held against.
type water struct {
	Limit string // of un-ionised ammonia, with its unit
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
	columns := [...][]string{
		column(r.Water, 2, func(t reports.WaterReading) *float64 { return t.PH }),
		column(r.Water, 1, func(t reports.WaterReading) *float64 { return t.TemperatureC }),
		column(r.Water, 3, func(t reports.WaterReading) *float64 { return t.TotalAmmonia }),
		column(r.Water, 2, func(t reports.WaterReading) *float64 { return t.OxygenMGPerL }),
		column(r.Water, 4, func(t reports.WaterReading) *float64 { return t.Unionised }),
	}
	for i, t := range r.Water {
		row := &v.Tests[i]
		row.Date, row.Time, row.OverLimit = t.Date.String(), t.Time, t.OverLimit
		row.PH, row.Celsius, row.Ammonia, row.Oxygen, row.Unionised = columns[0][i], columns[1][i], columns[2][i], columns[3][i], columns[4][i]
	}
	return v
}

// column are the numbers of a column, empty where none was measured, all with as many
// decimals as one of them needs and no more than most.
func column(tests []reports.WaterReading, most int, of func(reports.WaterReading) *float64) []string {
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

// event is a row of the events.
type event struct{ Date, Text string }

func newEvents(list []reports.EventMark, u layers.Units) (rows []event) {
	for _, e := range list {
		rows = append(rows, event{e.Date.String(), words.Event(e, u)})
	}
	return rows
}
