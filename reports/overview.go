package reports

import (
	"cmp"
	"slices"

	"panecore/layers"
)

// OverviewFormat names the JSON form of an Overview.
const OverviewFormat = "panecore-overview/1"

// Overview is every tank in a line, the most pressing first.
type Overview struct {
	Format string         `json:"format"`
	Today  layers.Date    `json:"today"`
	Tanks  []OverviewLine `json:"tanks"`
}

// OverviewLine is a tank's findings in short.
type OverviewLine struct {
	ID           string      `json:"id"`
	Name         string      `json:"name"`
	Action       Action      `json:"action,omitempty"` // empty: no core has been read
	Confidence   float64     `json:"confidence"`
	Clarity      Clarity     `json:"clarity,omitempty"`
	LimitedBy    []string    `json:"limited_by"`
	WaterFirst   []string    `json:"water_first"` // see Advice
	Reliable     bool        `json:"reliable"`    // false: a newest core was read from a photo that is not
	Mulm         *Estimate   `json:"mulm_mm"`
	OxicDepth    *Estimate   `json:"oxic_depth_mm"`
	Accumulation *Estimate   `json:"accumulation_mm_per_month"`
	FrontShift   *Estimate   `json:"front_shift_mm_per_month"`
	LastReading  layers.Date `json:"last_reading"`
	DaysSince    *int        `json:"days_since"`
	NextReading  layers.Date `json:"next_reading"`
	Due          bool        `json:"due"`

	Cores []Core `json:"-"` // each station's newest
	How   string `json:"-"` // the action in one sentence

	wait int // days, of the advice
}

// NewOverview puts the findings of a logbook in order. First come the tanks whose water
// is to be seen to; then a tank presses the more, the sooner it wants a second look for
// what was seen in it, then the more its draws speak for a hand in the bed, then the
// longer its reading is overdue. One that was never read is due, and so is one whose water
// comes first.
func NewOverview(f Findings, today layers.Date) Overview {
	o := Overview{Format: OverviewFormat, Today: today, Tanks: make([]OverviewLine, len(f.Tanks))}
	for i, tank := range f.Tanks {
		o.Tanks[i] = newOverviewLine(tank, today)
	}
	slices.SortStableFunc(o.Tanks, func(a, b OverviewLine) int {
		return cmp.Or(
			cmp.Compare(a.urgency(), b.urgency()),
			cmp.Compare(b.handsOn(), a.handsOn()),
			cmp.Compare(a.dueDay(), b.dueDay()),
			cmp.Compare(a.ID, b.ID),
		)
	})
	return o
}

func newOverviewLine(tank Tank, today layers.Date) OverviewLine {
	line := OverviewLine{
		ID: tank.ID, Name: tank.Name, Mulm: tank.Mulm, OxicDepth: tank.OxicDepth,
		Accumulation: tank.Accumulation, FrontShift: tank.FrontShift, Due: true,
		LimitedBy: []string{}, WaterFirst: []string{}, Reliable: true, Cores: tank.Cores,
	}
	if tank.Advice == nil {
		return line
	}
	line.Action, line.Confidence = tank.Advice.Action, tank.Advice.Confidence
	a := tank.Advice
	line.How, line.WaterFirst, line.Clarity, line.LimitedBy, line.wait = a.How, a.WaterFirst, a.Clarity, a.LimitedBy, a.WaitDays
	line.NextReading, line.Due = a.NextReading, a.NextReading <= today || len(a.WaterFirst) > 0
	for _, core := range tank.Cores {
		line.LastReading = max(line.LastReading, core.Date)
		line.Reliable = line.Reliable && core.Reliable
	}
	if line.LastReading == 0 {
		return line
	}
	days := int(today - line.LastReading)
	line.DaysSince = &days
	return line
}

// soon is the wait that a tank in trouble is given, days: see the rules of decay and ammonia.
const soon = 7

// urgency is 0 for a tank whose water comes first, 1 for one in trouble, 2 for one whose bed
// wants a hand, 3 for the rest.
func (l OverviewLine) urgency() int {
	switch {
	case len(l.WaterFirst) > 0:
		return 0
	case l.Action != "" && l.wait <= soon:
		return 1
	case l.Action != "" && l.Action != Leave:
		return 2
	}
	return 3
}

// dueDay is the day that the next reading was due by the newest core; the zero day for a tank
// that was never read.
func (l OverviewLine) dueDay() layers.Date {
	if l.LastReading == 0 {
		return 0
	}
	return l.LastReading + layers.Date(l.wait)
}

// handsOn is how many of the draws of a tank whose bed wants a hand say so.
func (l OverviewLine) handsOn() float64 {
	if l.Action == Leave || l.Action == "" {
		return 0
	}
	return l.Confidence
}

// OnlyDue keeps the tanks that are to be read by today.
func (o Overview) OnlyDue() Overview {
	o.Tanks = slices.DeleteFunc(slices.Clone(o.Tanks), func(l OverviewLine) bool { return !l.Due })
	return o
}
