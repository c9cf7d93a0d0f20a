package table

import (
	"fmt"
	"math"

	"panecore/reports"
)

// actionWords is the advice as a keeper would say it.
func actionWords(a reports.Action) string {
	switch a {
	case reports.Leave:
		return "Leave it"
	case reports.Stir:
		return "Stir the top"
	case reports.Siphon:
		return "Siphon the top"
	}
	return string(a)
}

// confidenceWords puts a share of the draws into words (the steps: assumption).
func confidenceWords(share float64) string {
	switch {
	case share >= 0.95:
		return "Sure"
	case share >= 0.8:
		return "Fairly sure"
	case share >= 0.6:
		return "Rather likely"
	}
	return "Undecided"
}

// draws writes a share as "86 of 100 draws".
func draws(share float64) string { return fmt.Sprintf("%d of 100 draws", hundred(share)) }

// hundred rounds a share to hundredths, but to nothing and to all only what is
// nothing and all.
func hundred(share float64) int {
	n := int(math.Round(100 * share))
	switch {
	case n < 1 && share > 0:
		return 1
	case n > 99 && share < 1:
		return 99
	}
	return n
}

// basisWords says what an estimate stands on; empty for one that needs no word.
func basisWords(e reports.Estimate) string {
	switch e.Basis {
	case reports.RustFront:
		return "lower edge of the rust front"
	case reports.ReducedTop:
		return "top of the first reduced band"
	case reports.NotReached:
		return "its end is not within the view"
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
		return "fitted to a measured oxygen"
	}
	return string(e.Basis)
}

// frontWords says which way the front moves. Depth counts downward, so a
// negative shift is a rise.
func frontWords(shift reports.Estimate) string {
	way := "standing still"
	switch {
	case shift.Value < 0:
		way = "rising toward the surface"
	case shift.Value > 0:
		way = "sinking away from the surface"
	}
	if shift.Value != 0 && shift.Low <= 0 && shift.High >= 0 {
		way += ", or standing still"
	}
	return way
}

// forecastWords says when the mulm reaches its limit. A date is known only where
// the earlier ones are.
func forecastWords(f reports.Forecast, limit string) string {
	switch {
	case f.Earliest == nil:
		return fmt.Sprintf("As things go, the mulm may never reach its limit of %s.", limit)
	case f.Expected == nil:
		return fmt.Sprintf("The mulm may never reach its limit of %s; on %s at the earliest.", limit, f.Earliest)
	case f.Latest == nil:
		return fmt.Sprintf("The mulm reaches its limit of %s about %s, on %s at the earliest; it may never.", limit, f.Expected, f.Earliest)
	}
	return fmt.Sprintf("The mulm reaches its limit of %s about %s, on %s at the earliest, on %s at the latest.",
		limit, f.Expected, f.Earliest, f.Latest)
}

// black reports whether a core or a tank shows any black zone.
func black(zone *reports.Estimate) bool { return zone != nil && zone.High > 0 }
