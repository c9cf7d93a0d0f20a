// Package rules judges what was inferred of a tank: the table of rules that each draw is held
// against, the advice that follows, and all that is said of it in words: alarms, signs to watch,
// questions, notices and cautions.
package rules

import (
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
)

// Case is one tank before the rules: what was inferred of it, and how its draws end.
type Case struct {
	*infer.Outlook
	verdict verdict
	unsure  unsure
	amiss   bool // a limit is passed, or something else is told to be amiss
}

// NewCase is a tank of which no draw has been heard; drawers are those of its newest cores.
func NewCase(o *infer.Outlook, drawers []*infer.Drawer) *Case {
	return &Case{Outlook: o, verdict: newVerdict(), unsure: newUnsure(drawers)}
}

// Hear lets the rules judge the draw at hand.
func (c *Case) Hear(t *infer.Truth) { c.unsure.note(c.verdict.hear(t)) }

// Fill gives the findings what the rules say of the draws that were heard; its numbers stand
// already.
func (c *Case) Fill(found *reports.Tank) {
	found.Advice = c.advice(found.LimitReached)
	found.Watch = c.watch(found.Advice.NextReading)
	found.Questions = c.questions(found.Advice)
	found.Notices = c.notices(*found)
}

// FillUnread gives the findings of a tank of which no core has been read what its water says.
func (c *Case) FillUnread(found *reports.Tank) {
	found.Notices = slices.Concat([]string{noCore}, c.Tests.Grave, c.Tests.Stale)
	if len(c.alarms()) > 0 {
		found.Advice = c.urgent()
		found.Watch = c.watch(found.Advice.NextReading)
		return
	}
	found.Watch = c.watch(c.AsOf)
	found.Notices = append(found.Notices, found.Watch.Signs...)
	if c.Decay() || c.Seen(layers.EggSmell) {
		steps := []string{"Trouble was noted: " + c.signs(append(infer.DecaySigns(), layers.EggSmell)...) + ".", "Look at the animals and the water today.", Aerate, TestWater}
		if c.Seen(layers.DeadAnimal, layers.PlantMelt, layers.WhiteThreads) {
			steps = append(steps, takeOut)
		}
		found.Notices = append(found.Notices, strings.Join(append(steps, "Keep hands out of the bed.", askAVet), " "))
	}
}
