package words

import (
	"fmt"

	"panecore/layers"
	"panecore/reports"
)

// Basis says what an estimate rests on; empty if that needs no word.
func Basis(e reports.Estimate) string {
	switch e.Basis {
	case reports.RustFront:
		return "lower edge of the rust front"
	case reports.ReducedTop:
		return "top of the first reduced band"
	case reports.NotReached:
		return "its lower end is out of view"
	case reports.Trend:
		if e.Readings > 0 {
			return fmt.Sprintf("trend of %d readings", e.Readings)
		}
		return "trend of the readings"
	case reports.TwoReadings:
		return "difference of 2 readings"
	case reports.SinceSetUp:
		return "one reading, spread over the time since set-up"
	case reports.WaterTest:
		return "from a water test"
	case reports.Model:
		return "modelled"
	case reports.Fitted:
		return "fitted to measured oxygen"
	}
	return string(e.Basis)
}

// Front says which way the front moves against the bed surface. Depth counts downward, so a negative
// shift is a rise.
func Front(shift reports.Estimate) string {
	return direction(shift, "rising toward the surface", "sinking away from the surface")
}

// direction names the way of a shift, and that it may be none.
func direction(shift reports.Estimate, up, down string) string {
	way, sure := sense(shift)
	text := down
	switch {
	case way == 0:
		return "hardly moving"
	case way < 0:
		text = up
	}
	if !sure {
		text += ", or standing still"
	}
	return text
}

// FrontShift names the shift of the front against the bed surface and its direction.
func FrontShift(shift *reports.Estimate) string {
	if shift == nil {
		return "front shift"
	}
	return "front shift, " + Front(*shift)
}

// FloorShift names the shift of the front against the floor and its direction.
func FloorShift(shift *reports.Estimate) string {
	const name = "front shift against the floor"
	if shift == nil {
		return name
	}
	return name + ", " + direction(*shift, "rising", "sinking")
}

// StationRates are how fast a station changes; nil: not known.
type StationRates struct {
	Station       string
	Growth, Shift *reports.Estimate
}

// Rates are the rates by station, then those of all if there are several.
func Rates(t reports.Timeline) (list []StationRates) {
	for _, s := range t.Stations {
		list = append(list, StationRates{s.Station, s.Accumulation, s.FrontShift})
	}
	if len(t.Stations) > 1 {
		list = append(list, StationRates{"all stations", t.Accumulation, t.FrontShift})
	}
	return list
}

// Forecast says when the mulm reaches its limit, as of a day. A date is known only if the earlier
// ones are.
func Forecast(f reports.Forecast, asOf layers.Date, u layers.Units) string {
	limit := Depth(u, f.LimitMM)
	switch {
	case f.Latest != nil && *f.Latest <= asOf:
		return fmt.Sprintf("The mulm has reached its limit of %s.", limit)
	case f.Expected != nil && *f.Expected <= asOf:
		return fmt.Sprintf("The mulm has most likely reached its limit of %s.", limit)
	case f.Earliest == nil:
		return fmt.Sprintf("As things go, the mulm may never reach its limit of %s.", limit)
	case f.Expected == nil:
		return fmt.Sprintf("The mulm may never reach its limit of %s, and not before %s.", limit, f.Earliest)
	case f.Latest == nil:
		return fmt.Sprintf("The mulm reaches its limit of %s about %s (%s at the earliest, or never).", limit, f.Expected, f.Earliest)
	}
	return fmt.Sprintf("The mulm reaches its limit of %s about %s (%s to %s).", limit, f.Expected, f.Earliest, f.Latest)
}
