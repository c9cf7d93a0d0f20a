package words

import (
	"fmt"
	"math"
	"strconv"

	"panecore/layers"
	"panecore/reports"
)

// RehearsalVerdict sums up the rehearsal in a sentence or two.
func RehearsalVerdict(r reports.Rehearsal, u layers.Units) string {
	deed := "siphoning"
	if r.Method == reports.MethodStir {
		deed = "stirring"
	}
	deed = fmt.Sprintf("%s %s of the floor down to %s %s", deed, Percent(r.Share), OnRuler(u, r.DepthMM), u)
	unknown := len(r.Unknown()) > 0
	switch {
	case r.Never != "":
		return fmt.Sprintf("Don't. %s By the numbers alone, %s stays within every limit in %s.", r.Never, deed, Draws(r.Within))
	case r.Fine() && unknown:
		return fmt.Sprintf("By oxygen alone, it can be done: %s stays within its limit in %s. Ammonia and hydrogen sulphide are not known without a pH: test it first.", deed, Draws(r.Within))
	case r.Fine():
		return fmt.Sprintf("It can be done: %s stays within every limit in %s.", deed, Draws(r.Within))
	}
	text := fmt.Sprintf("Don't: %s stays within every limit in %s.", deed, fewDraws(r.Within))
	if r.Troubled() {
		text += fmt.Sprintf(" The untouched water does so in %s: see to it first.", fewDraws(r.Before))
	}
	for _, l := range r.Largest {
		if l.Method == r.Method && l.DepthMM == r.DepthMM {
			text += enoughFor(l, r.Share)
		}
	}
	return text
}

// Doubts say where the doubt in a rehearsal comes from, a line for each input.
func Doubts(r reports.Rehearsal) (lines []string) {
	for _, d := range r.Doubt {
		lines = append(lines, fmt.Sprintf("%s (rank correlation with that share %s)", d.Input, Signed(d.Correlation, 2)))
	}
	return lines
}

// fewDraws writes a share of the draws that is too small.
func fewDraws(share float64) string {
	if share == 0 {
		return "none of the draws"
	}
	return fmt.Sprintf("only %d of 100 draws (95 are wanted)", int(100*share))
}

// enoughFor says what would stay within the limits if the share asked for does not.
func enoughFor(l reports.LargestShare, share float64) string {
	asItIs, aerated := AtMost(l.Share), AtMost(l.Aerated)
	switch {
	case l.Aerated >= share:
		return " With an air stone running, it would."
	case aerated != asItIs:
		return fmt.Sprintf(" With an air stone running, up to %s of the floor would.", aerated)
	case l.Share >= 0.01:
		return fmt.Sprintf(" At most %s of the floor would.", asItIs)
	}
	return " No share worth the effort would."
}

// LargestShares heads the list of a rehearsal's largest shares.
const LargestShares = "The largest share of the floor that stays within every limit in 95 of 100 draws"

// Percent writes a share, 0 to 1, as it was typed: "25 %", "0.4 %".
func Percent(share float64) string { return strconv.FormatFloat(100*share, 'g', 3, 64) + " %" }

// AtMost writes the largest share allowed, 0 to 1, in whole hundredths rounded down.
func AtMost(share float64) string {
	if share > 0 && share < 0.01 {
		return "under 1 %"
	}
	const lastBits = 1e-9 // so that 0.29 is 29 hundredths
	return Number(math.Floor(100*share+lastBits), 0) + " %"
}

// OxygenVerdict says how much oxygen the bottom of the water holds in the dark, and the least it
// should.
func OxygenVerdict(x reports.OxygenProfile) string {
	m := Oxygen()
	held := "How much oxygen the bottom of the water holds in the dark is not known"
	if bottom := x.Bottom(); bottom != nil {
		held = "In the dark, the bottom of the water holds " + m.Estimate(*bottom)
	}
	return held + "; it should never be less than " + m.Plain(x.Limit) + " " + m.Unit + "."
}

// Saturation says what water in balance with the air holds.
func Saturation(x reports.OxygenProfile) string {
	m := Oxygen()
	return "Water at " + Number(x.TemperatureC, 1) + " °C in balance with the air holds " + m.Plain(x.Saturation) + " " + m.Unit + "."
}

// Lacking says why a record has no oxygen profile or not every rehearsal; empty: nothing is missing.
// The tank's notices say which need is unmet.
func Lacking(r reports.Record) string {
	switch {
	case r.Lacking == "":
		return ""
	case len(r.Tank.Cores) == 0:
		return "Not worked out: no core has been read."
	case r.Oxygen == nil:
		return "Not worked out: it needs the vessel's measurements and a water temperature from the last 90 days. The notices say what is missing."
	case len(r.Rehearsals) == 0:
		return "Not worked out: it would reach deeper than the bed was read."
	}
	return "One is not worked out: it would reach deeper than the bed was read."
}
