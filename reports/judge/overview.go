package judge

import (
	"cmp"
	"slices"

	"panecore/layers"
	"panecore/reports"
)

// NewOverview puts the findings of a logbook in order: tanks whose water comes first, tanks in
// trouble or with a runaway under way, tanks whose bed should be worked (the more draws say so, the earlier), tanks due for a
// reading, those never read, the rest; among equals the longest overdue first. A tank that was never read is due, and so is
// one whose water comes first. It stands below all others that are due: nothing is known that makes it press, but a reading
// would tell, which the rest have had.
func NewOverview(f reports.Findings, today layers.Date) reports.Overview {
	o := reports.Overview{Format: reports.OverviewFormat, Today: today, Tanks: make([]reports.OverviewLine, len(f.Tanks))}
	for i, tank := range f.Tanks {
		o.Tanks[i] = newOverviewLine(tank, today)
	}
	slices.SortStableFunc(o.Tanks, func(a, b reports.OverviewLine) int {
		return cmp.Or(
			cmp.Compare(urgencyOf(a), urgencyOf(b)),
			cmp.Compare(workShare(b), workShare(a)),
			cmp.Compare(dueDay(a), dueDay(b)),
			cmp.Compare(a.ID, b.ID),
		)
	})
	return o
}

func newOverviewLine(tank reports.Tank, today layers.Date) reports.OverviewLine {
	line := reports.OverviewLine{
		ID: tank.ID, Name: tank.Name, Mulm: tank.Mulm, OxicDepth: tank.OxicDepth,
		Accumulation: tank.Accumulation, FrontShift: tank.FrontShift, FloorShift: tank.FloorShift, Watch: tank.Watch, Due: true,
		LimitedBy: []string{}, WaterFirst: []string{}, Reliable: true, Cores: tank.Cores,
	}
	if tank.Advice == nil {
		return line
	}
	line.Action, line.Confidence = tank.Advice.Action, tank.Advice.Confidence
	a := tank.Advice
	line.How, line.WaterFirst, line.Clarity, line.LimitedBy, line.WaitDays = a.How, a.WaterFirst, a.Clarity, a.LimitedBy, a.WaitDays
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

// soon is the longest wait of a tank in trouble, days, as the rules of decay and ammonia set it.
const soon = 7

// urgencyOf is 0 for a tank whose water comes first, 1 for one in trouble or with a runaway under way, 2 for one whose bed
// should be worked, 3 for one due for a reading, 4 for one that was never read, 5 for the rest.
func urgencyOf(l reports.OverviewLine) int {
	switch {
	case len(l.WaterFirst) > 0:
		return 0
	case l.Watch.Runaway(), l.Action != "" && l.WaitDays <= soon:
		return 1
	case l.Action != "" && l.Action != reports.Leave:
		return 2
	case l.LastReading == 0:
		return 4
	case l.Due:
		return 3
	}
	return 5
}

// dueDay is when the next reading is due, counted from the newest core; zero for a tank that was
// never read.
func dueDay(l reports.OverviewLine) layers.Date {
	if l.LastReading == 0 {
		return 0
	}
	return l.LastReading + layers.Date(l.WaitDays)
}

// workShare is the share of the draws that advise working the bed where that is the advice, else 0.
func workShare(l reports.OverviewLine) float64 {
	if l.Action == reports.Leave || l.Action == "" {
		return 0
	}
	return l.Confidence
}
