package page

import (
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

type water struct {
	Limit string   // for un-ionised ammonia, with its unit
	Units string   // of the columns that are not headed by theirs
	Heads []string // of what was measured
	Tests []test
}

// test is a row of the water tests; empty cells were not measured.
type test struct {
	Date, Time string
	Measured   []string
	Unionised  string
	OverLimit  bool
}

func newWater(r reports.Record) water {
	m := words.Ammonia()
	v := water{Limit: m.Plain(r.AmmoniaLimit) + " " + m.Unit, Tests: make([]test, len(r.Water))}
	for i, t := range r.Water {
		v.Tests[i] = test{Date: t.Date.String(), Time: t.Time, OverLimit: t.OverLimit}
	}
	for _, f := range readings() {
		head := f.Label
		if f.Head == f.Unit(layers.MM) {
			head = f.Head // a unit that nothing else has
		}
		v.Heads = append(v.Heads, head)
		for i, cell := range column(r.Water, f.Decimals, func(t reports.WaterReading) (float64, bool) { return f.Number(&t.WaterTest) }) {
			v.Tests[i].Measured = append(v.Tests[i].Measured, cell)
		}
	}
	const unionisedDecimals = 4
	for i, cell := range column(r.Water, unionisedDecimals, unionised) {
		v.Tests[i].Unionised = cell
	}
	v.Units = unitWords()
	return v
}

func unionised(t reports.WaterReading) (value float64, known bool) {
	if t.Unionised == nil {
		return 0, false
	}
	return *t.Unionised, true
}

// readings are the fields that may be measured, total ammonia last: beside what follows from it.
func readings() []layers.Field[layers.WaterTest] {
	isAmmonia := func(f layers.Field[layers.WaterTest]) bool { return f.Name == layers.TotalAmmoniaField }
	list := slices.Clone(layers.WaterReadings())
	at := slices.IndexFunc(list, isAmmonia)
	return append(slices.Delete(list, at, at+1), layers.WaterReadings()[at])
}

// unitWords tell the units of the columns that are not headed by theirs: "Ammonia in mg N/L, oxygen in mg/L".
func unitWords() string {
	var units []string
	for _, f := range layers.WaterReadings() {
		if unit := f.Unit(layers.MM); unit != "" && unit != f.Head {
			units = append(units, f.Head+" in "+unit)
		}
	}
	text := strings.Join(units, ", ")
	return strings.ToUpper(text[:1]) + text[1:]
}

// column writes a number of every test with the same decimals, as many as one of them needs
// but at most most. It is empty where nothing was measured.
func column(tests []reports.WaterReading, most int, of func(reports.WaterReading) (float64, bool)) []string {
	cells, needed := make([]string, len(tests)), 0
	for _, t := range tests {
		if x, measured := of(t); measured {
			_, fraction, _ := strings.Cut(strings.TrimRight(words.Number(x, most), "0"), ".")
			needed = max(needed, len(fraction))
		}
	}
	for i, t := range tests {
		if x, measured := of(t); measured {
			cells[i] = words.Number(x, needed)
		}
	}
	return cells
}
