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

// WaterFirst is the headline where the water is more urgent than the bed.
const WaterFirst = "See to the water first"

// Headline is the decision as a keeper would say it.
func Headline(a reports.Action, waterFirst []string) string {
	if len(waterFirst) > 0 {
		return WaterFirst
	}
	return Action(a)
}

// Clarity says how clear the reading behind the advice is and what keeps it from being clearer:
// "The reading is fairly clear (one station only)".
func Clarity(c reports.Clarity, limitedBy []string) string {
	text := "The reading is clear"
	switch c {
	case reports.FairlyClear:
		text = "The reading is fairly clear"
	case reports.Unclear:
		text = "The reading is unclear"
	case reports.Divided:
		text = "The reading does not settle it"
	}
	if len(limitedBy) > 0 {
		text += " (" + strings.Join(limitedBy, "; ") + ")"
	}
	return text
}

// HowClear says how clear the reading is, and how many draws say what is advised:
// "The reading is clear: 99 of 100 draws say so."
func HowClear(a reports.Advice) string {
	return Clarity(a.Clarity, a.LimitedBy) + ": " + Draws(a.Confidence) + " say so."
}

// Sentences that explain, once on each page, what its numbers are.
const (
	AboutDraws = "A draw is one possible truth behind your readings; the rules judge two thousand. Draws show how clear the reading is, not how right the rules are."
	AboutOxic  = "The colour oxic depth is how deep oxygen has ever reached, not where it ends today."
)

// Draws writes a share, 0 to 1, as "86 of 100 draws".
func Draws(share float64) string { return fmt.Sprintf("%d of 100 draws", Hundred(share)) }

// Hundred rounds a share, 0 to 1, to hundredths; only nothing is 0 and only all is 100.
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

// Mark writes where the rule of a reason comes from, and in how many draws it held if not in all:
// "(86 of 100 draws; assumption)".
func Mark(r reports.Reason) string {
	if r.Share < 1 {
		return "(" + Draws(r.Share) + "; " + r.Mark + ")"
	}
	return "(" + r.Mark + ")"
}

// Reasons writes reasons with their marks, a line each.
func Reasons(list []reports.Reason) []string {
	var lines []string
	for _, r := range list {
		lines = append(lines, r.Text+" "+Mark(r))
	}
	return lines
}

// Seen are the reasons why the water comes first, each with where its limit comes from.
func Seen(a reports.Advice) []reports.Reason {
	return a.Because[:min(len(a.WaterFirst), len(a.Because))]
}

// Besides are the reasons for the advice that are not among Seen.
func Besides(a reports.Advice) []reports.Reason { return a.Because[len(Seen(a)):] }

// OtherActions says what the other draws ended in, a line each.
func OtherActions(a reports.Advice) []string {
	var lines []string
	for _, other := range reports.Actions() {
		if share := a.Shares.Of(other); other != a.Action && share >= 0.01 {
			lines = append(lines, Draws(share)+" say: "+strings.ToLower(Action(other))+".")
		}
	}
	return lines
}

// Questions writes what only the keeper can settle, each with the command for every answer.
func Questions(list []reports.Question) []string {
	var lines []string
	for _, q := range list {
		var answers []string
		for _, m := range q.Mends {
			answers = append(answers, m.Label+": "+m.Command)
		}
		lines = append(lines, q.Text+" "+strings.Join(answers, "; ")) // no full stop, which would be copied with the command
	}
	return lines
}

// OverviewTitle says how many tanks an overview lists, and of which day.
func OverviewTitle(o reports.Overview) string {
	if len(o.Tanks) == 1 {
		return fmt.Sprintf("1 tank on %s", o.Today)
	}
	return fmt.Sprintf("%d tanks on %s, the most pressing first", len(o.Tanks), o.Today)
}

// NextReading says when to read the bed; read: it was read before.
func NextReading(a reports.Advice, read bool) string {
	if len(a.WaterFirst) > 0 {
		return "Look at the animals again today, test the water again tomorrow, and read the bed on " + a.NextReading.String()
	}
	if !read {
		return "Read the bed for the first time on " + a.NextReading.String()
	}
	return "Read the bed again on " + a.NextReading.String()
}
