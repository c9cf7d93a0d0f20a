// Package rules judges what was inferred about a tank. It holds the table of rules that each draw
// is tested against, the advice that follows, and what is said about it in words: alarms, watch
// signs, questions, notices and cautions.
package rules

import (
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
)

// Case is one tank before the rules: what was inferred about it, and how its draws end.
type Case struct {
	*infer.Outlook
	verdict verdict
	unsure  unsure
	trouble bool // the advice says that a limit is passed or something else is wrong
}

// NewCase is a tank before its first draw; drawers are those of its newest cores.
func NewCase(o *infer.Outlook, drawers []*infer.Drawer) *Case {
	return &Case{Outlook: o, verdict: newVerdict(), unsure: newUnsure(drawers)}
}

// Hear lets the rules judge one draw.
func (c *Case) Hear(t *infer.Truth) { c.unsure.note(c.verdict.hear(t)) }

// Fill adds to the findings what the rules say about the draws. The numbers in found are set
// before.
func (c *Case) Fill(found *reports.Tank) {
	found.Advice = c.advice(found.LimitReached)
	found.Watch = c.watch(found.Advice.NextReading)
	found.Questions = c.questions(found.Advice)
	found.Notices = c.notices(*found)
}

// FillUnread is Fill for a tank without a core: only its water and its signs speak.
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
		found.Notices = append(found.Notices, strings.Join(append(steps, "Keep your hands out of the bed.", askAVet), " "))
	}
}
