package words

import (
	"fmt"
	"math"
	"strings"

	"panecore/reports"
)

// Action is the advice as a keeper would say it.
func Action(a reports.Action) string {
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

// Confidence puts a share of the draws, 0 to 1, into words (the steps: assumption).
func Confidence(share float64) string {
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

// Draws writes a share, 0 to 1, as "86 of 100 draws".
func Draws(share float64) string { return fmt.Sprintf("%d of 100 draws", Hundred(share)) }

// Hundred rounds a share, 0 to 1, to hundredths, but to nothing and to all only what is
// nothing and all.
func Hundred(share float64) int {
	n := int(math.Round(100 * share))
	switch {
	case n < 1 && share > 0:
		return 1
	case n > 99 && share < 1:
		return 99
	}
	return n
}

// Mark writes where the rule of a reason comes from, and how many draws heard it where not
// all did: "(86 of 100 draws; assumption)".
func Mark(r reports.Reason) string {
	if r.Share < 1 {
		return "(" + Draws(r.Share) + "; " + r.Mark + ")"
	}
	return "(" + r.Mark + ")"
}

// Reasons writes reasons, a line each, with their marks.
func Reasons(list []reports.Reason) []string {
	var lines []string
	for _, r := range list {
		lines = append(lines, r.Text+" "+Mark(r))
	}
	return lines
}

// OtherActions says, a line each, what the draws came to that did not end in the advice.
func OtherActions(a reports.Advice) []string {
	var lines []string
	for _, other := range reports.Actions() {
		if share := a.Shares.Of(other); other != a.Action && share > 0 {
			lines = append(lines, Draws(share)+" say: "+strings.ToLower(Action(other))+".")
		}
	}
	return lines
}
