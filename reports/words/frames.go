package words

import (
	"math"

	"panecore/layers"
	"panecore/reports"
)

// hardly is the least shift of the front that is worth naming if its range holds standing still, mm a
// month (assumption: a millimetre, which is what a ruler shows, takes most of a year).
const hardly = 0.1

// sense is which way something moves, -1, 0 or 1; sure: its range does not hold standing still.
func sense(e reports.Estimate) (way int, sure bool) {
	sure = e.Low > 0 || e.High < 0
	switch {
	case !sure && math.Abs(e.Value) < hardly, e.Value == 0:
		return 0, sure
	case e.Value < 0:
		return -1, sure
	}
	return 1, sure
}

// Frames says how the front moves against the floor and against the bed surface, which mulm lifts: a
// front that gets deeper may well rise. Either shift may be nil; empty: both are.
func Frames(surface, floor *reports.Estimate, u layers.Units) string {
	moves := func(e reports.Estimate) string { return change(e, u, "rise", "hardly moves", "sink") }
	switch {
	case surface == nil && floor == nil:
		return ""
	case floor == nil:
		return "Against the bed surface the front " + moves(*surface) + ". The floor is not seen, so how it moves against that is not known."
	case surface == nil:
		return "Against the floor the front " + moves(*floor) + ". How it moves against the bed surface is not known."
	}
	front, _ := sense(*floor)
	deeper, _ := sense(*surface)
	depth := "its depth below the surface " + change(*surface, u, "shrink", "hardly changes", "grow")
	if front == 0 {
		switch {
		case deeper > 0:
			return "Against the floor the front hardly moves; " + depth + " because mulm grows on top."
		case deeper < 0:
			return "Against the floor the front hardly moves; " + depth + " because the bed surface sinks."
		}
		return "The front hardly moves, either against the floor or against the bed surface."
	}
	text := "The front " + moves(*floor) + " against the floor, "
	switch {
	case deeper == front:
		return text + "and " + depth + "."
	case deeper == 0 && front < 0:
		return text + "but " + depth + ": the mulm grows as fast."
	case deeper == 0:
		return text + "but " + depth + ": the bed surface sinks as fast."
	case front < 0:
		return text + "though " + depth + ": the mulm grows faster."
	}
	return text + "though " + depth + ": the bed surface sinks faster."
}

// change says which way something moves and how fast: "rises by 2.5 mm a month". What may stand still
// only seems to move.
func change(e reports.Estimate, u layers.Units, less, still, more string) string {
	way, sure := sense(e)
	if way == 0 {
		return still
	}
	verb := more
	if way < 0 {
		verb = less
	}
	if sure {
		verb += "s"
	} else {
		verb = "seems to " + verb
	}
	m := Rate(u)
	return verb + " by " + Number(math.Abs(e.Value*m.scale), m.digits(e)) + " " + Plural(u) + " a month"
}
