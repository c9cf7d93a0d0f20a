package layers

import (
	"fmt"
	"slices"
	"strings"
)

// Tank is one vessel and all that its keeper has written down of it.
type Tank struct {
	ID           string
	Name         string // empty: not given
	SetUp        Date   // zero: not given
	Vessel       *Vessel
	Flow         Flow  // empty: not given
	Burrowers    *bool // nil: not given
	RootedPlants *bool // nil: not given
	Native       []Native
	Limits       Limits
	Cores        []Core
	Water        []WaterTest
	Events       []Event
}

// TankFields are the fields of a tank.
func TankFields() []Field[Tank] { return tankTable.fields }

var tankTable = tableOf(nil,
	field("id", wording((*Decoder).readID, ParseName), func(t *Tank) *string { return &t.ID }).needed().apart(),
	field("name", labelKind(), func(t *Tank) *string { return &t.Name }).
		seen(Words{Label: "Name", Flag: "name", Usage: "call the tank `NAME`"}),
	field("set_up", dateKind(), func(t *Tank) *Date { return &t.SetUp }).
		seen(Words{Label: "The bed was laid on", Head: "set up", Flag: "set-up", Usage: "the bed was laid on `DATE`, YYYY-MM-DD"}),
	unfolded(field("vessel", maybe(vesselTable), vesselOf), vesselTable, vesselOf),
	field("flow", oneWord(flows), func(t *Tank) *Flow { return &t.Flow }).
		seen(Words{Label: "How the water moves", Head: "flow", Flag: "flow", Usage: "how the water is moved: `FLOW` is " + strings.Join(Texts(flows), ", ")}),
	field("burrowers", flagKind(), func(t *Tank) **bool { return &t.Burrowers }).
		seen(Words{Label: "Animals burrow in the bed", Head: "burrowers", Flag: "burrowers", Usage: "whether animals burrow in the bed, `yes|no`"}),
	field("rooted_plants", flagKind(), func(t *Tank) **bool { return &t.RootedPlants }).
		seen(Words{Label: "Plants root in the bed", Head: "rooted plants", Flag: "rooted", Usage: "whether plants root in the bed, `yes|no`"}),
	field("native", rowsOf(nativeTable), func(t *Tank) *[]Native { return &t.Native }),
	field("limits", structured(limitsColumn, (*Decoder).readLimits, func(limits Limits) bool { return len(limits) > 0 }, writeLimits),
		func(t *Tank) *Limits { return &t.Limits }),
	field("cores", listOf((*Decoder).readCores, coreTable.block), func(t *Tank) *[]Core { return &t.Cores }).apart(),
	field("water", rowsOf(waterTable), func(t *Tank) *[]WaterTest { return &t.Water }).apart(),
	field("events", rowsOf(eventTable), func(t *Tank) *[]Event { return &t.Events }).apart(),
)

func vesselOf(t *Tank) **Vessel { return &t.Vessel }

func (d *Decoder) readID() string {
	id := string(d.label())
	first, twin := d.tankAt[id]
	switch {
	case id == "":
	case twin:
		d.twin = true
		d.in.ReportHere(fmt.Sprintf("%q, the id of tanks[%d]", id, first), "an id of its own")
	default:
		d.tankAt[id] = d.index
	}
	return id
}

// checkSetUp stands at the tank's end, because set_up may follow the cores.
func (d *Decoder) checkSetUp(index int) {
	for i, core := range d.cores {
		if core.Date != 0 && core.Date < d.tank.SetUp {
			d.in.Report(fmt.Sprintf("/tanks/%d/cores/%d/date", index, i),
				core.Date.String(), d.tank.SetUp.String()+" (the tank's set_up) or later")
		}
	}
}

// MarshalJSON writes the tank as a document does.
func (t Tank) MarshalJSON() ([]byte, error) { return tankTable.marshal(&t) }

// Flow is how the water is moved.
type Flow string

// The kinds of flow.
const (
	Still     Flow = "still"
	Livestock Flow = "livestock" // moved by animals only
	Bubbled   Flow = "bubbled"
	Pumped    Flow = "pumped"
)

var flows = []Flow{Still, Livestock, Bubbled, Pumped}

// Stations lists where the tank was read, in the order of names.
func (t Tank) Stations() []string {
	var stations []string
	for _, core := range t.Cores {
		stations = append(stations, core.Station)
	}
	slices.Sort(stations)
	return slices.Compact(stations)
}

// CoreBefore is the last core of a station before a day.
func (t Tank) CoreBefore(station string, day Date) (former Core, ok bool) {
	for _, core := range t.Cores {
		if core.Station == station && core.Date < day && core.Date > former.Date {
			former, ok = core, true
		}
	}
	return former, ok
}

// UsualStation is the station that is meant where none is named: the tank's only one, or
// else "front".
func (t Tank) UsualStation() string {
	if stations := t.Stations(); len(stations) == 1 {
		return stations[0]
	}
	return "front"
}
