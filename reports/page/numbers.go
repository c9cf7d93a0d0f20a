package page

import (
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

type number struct {
	Name   string
	Value  string // with its unit
	Range  string // 90 %; empty: none
	Basis  string
	Absent string // why there is no value; empty: there is one
}

func newNumber(name string, e *reports.Estimate, m words.Measure) number {
	if e == nil {
		return number{Name: name, Absent: "not known"}
	}
	return number{Name: name, Value: m.Value(*e) + " " + m.Unit, Range: m.Bounds(*e), Basis: words.Basis(*e)}
}

type numbers struct {
	Rows    []number
	Missing bool // some are not known
}

func newNumbers(t reports.Tank, u layers.Units) numbers {
	length, rate := words.Length(u), words.Rate(u)
	n := numbers{Rows: []number{
		newNumber("colour oxic depth", t.OxicDepth, length),
		newNumber("mulm", t.Mulm, length),
		newNumber("black zone, depth of its top", t.BlackTop, length),
		newNumber("black zone, thickness", t.BlackZone, length),
		newNumber("accumulation of mulm", t.Accumulation, rate),
		newNumber(words.FrontShift(t.FrontShift), t.FrontShift, rate),
		newNumber(words.FloorShift(t.FloorShift), t.FloorShift, rate),
		newNumber("oxygen penetration", t.Penetration, length),
		newNumber("oxygen at the bottom of the water", t.BottomOxygen, words.Oxygen()),
		newNumber("un-ionised ammonia", t.Ammonia, words.Ammonia()),
	}}
	if z := t.BlackZone; z != nil && t.BlackTop == nil { // absent in most draws
		n.Rows[2].Absent = "no black zone"
		if z.High == 0 { // and in 95 of 100
			n.Rows[3].Absent = "no black zone"
		}
	}
	if t.FrontShift != nil && t.FloorShift == nil {
		n.Rows[6].Absent = "the floor is not seen"
	}
	for _, row := range n.Rows {
		n.Missing = n.Missing || row.Absent == "not known"
	}
	return n
}
