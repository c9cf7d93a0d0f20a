package rules

import (
	"fmt"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
)

// alarmWait is when to look again while the water comes first, days (common practice, no source).
const alarmWait = 2

// alarms are what was seen or measured lately that makes the water more urgent than the bed.
// They do not depend on the draws: no doubt about layers makes gasping animals less urgent.
func (c *Case) alarms() (list []signal) {
	add := func(name, mark string, since layers.Date, format string, args ...any) {
		list = append(list, signal{name: name, mark: mark, since: since, text: fmt.Sprintf(format, args...)})
	}
	if at := c.lately(layers.Gasping); at != 0 {
		add("gasping", practice, at, "Animals gasped on %s%s: they were short of oxygen, or something in the water burnt their gills.", at, ago(at, c.AsOf))
	}
	c.alarmsOfTests(add)
	if at := c.lately(layers.DeadAnimal); at != 0 {
		if wrong := c.alsoWrong(at, len(list) > 0); wrong != "" {
			add("dead-animal-in-want", practice, at, "An animal died on %s%s, and %s.", at, ago(at, c.AsOf), wrong)
		}
	}
	if at := c.lately(layers.EggSmell); at != 0 && (len(list) > 0 || c.Decay()) {
		add("egg-smell-in-distress", practice, at, "The tank smelt of rotten eggs (hydrogen sulphide) on %s%s, and there are other signs of trouble.", at, ago(at, c.AsOf))
	}
	return list
}

// alarmsOfTests adds the alarms that were measured.
func (c *Case) alarmsOfTests(add func(name, mark string, since layers.Date, format string, args ...any)) {
	if low := c.Tests.Low; low != nil {
		limit := c.Limit(layers.LimitOxygen)
		add("oxygen-measured-short", layers.LimitOxygen.Rule().Source, low.Date,
			"Oxygen was %s on %s%s, below the limit of %s, and no later test shows that it has recovered.", oxygenAgainst(low.Oxygen, limit), low.When(), ago(low.Date, c.AsOf), c.limitText(layers.LimitOxygen))
	}
	if a := c.Tests.Ammonia; a != nil {
		if least := a.AtLeast(); least > c.Limit(layers.LimitAmmonia) {
			format := "Un-ionised ammonia was %.4f mg N/L in the test on %s%s, over the limit of %s."
			if !a.Warm {
				format = "Even in water at 0 °C, un-ionised ammonia would have been %.4f mg N/L in the test on %s%s, over the limit of %s."
			}
			add("ammonia-measured-over", layers.LimitAmmonia.Rule().Source, a.Date, format, least, a.Date, ago(a.Date, c.AsOf), c.limitText(layers.LimitAmmonia))
		}
		if a.Total > c.Limit(layers.LimitTotalAmmonia) {
			add("total-ammonia-over", layers.LimitTotalAmmonia.Rule().Source, a.Date,
				"Total ammonia was %g mg N/L in the test on %s%s, over the limit of %s at any pH.", a.Total, a.Date, ago(a.Date, c.AsOf), c.limitText(layers.LimitTotalAmmonia))
		}
	}
	if w := c.Tests.Warmth; w != nil && c.AsOf-w.Date <= infer.StaleWaterDays && (w.Celsius < deadlyCold || w.Celsius > deadlyHot) {
		add("deadly-temperature", practice, w.Date, "The water was %g °C on %s%s, which few animals in such tanks survive.", w.Celsius, w.Date, ago(w.Date, c.AsOf))
	}
	if a := c.Tests.Acid; a != nil && (a.Newest < deadlyAcid || a.Newest > deadlyBase) {
		add("deadly-ph", practice, a.Date, "The pH was %g on %s%s, which few animals in such tanks survive.", a.Newest, a.Date, ago(a.Date, c.AsOf))
	}
}

// lately is the day on which a sign was last seen. It is zero if that is more than AlarmDays ago
// or the trouble has passed: a later core notes none, and oxygen measured later, before the lights
// came on, was not short.
func (c *Case) lately(sign layers.Sign) layers.Date {
	at := c.Recent[sign]
	if at == 0 || c.AsOf-at > infer.AlarmDays || c.Calm > at && c.fineDawn(at+1) {
		return 0
	}
	return at
}

// fineDawn reports whether oxygen at dawn, measured on a day or later, was not short and nothing
// short was measured since.
func (c *Case) fineDawn(from layers.Date) bool {
	return c.Tests.Low == nil && c.Tests.Dawn != nil && c.Tests.Dawn.Date >= from
}

// alsoWrong is what else shows, besides an animal that died on a day, that something is wrong; empty:
// nothing does.
func (c *Case) alsoWrong(died layers.Date, alarmed bool) string {
	switch {
	case c.Deaths > 1:
		return fmt.Sprintf("it was not the only one in %d days", infer.AlarmDays)
	case alarmed:
		return "something is wrong with the water too"
	case c.Seen(layers.EggSmell, layers.PlantMelt, layers.WhiteThreads):
		return "there are other signs of decay: " + c.signs(layers.EggSmell, layers.PlantMelt, layers.WhiteThreads)
	case c.Flow == layers.Still && !c.fineDawn(died):
		return "still water takes up little oxygen"
	}
	return ""
}

// waterSteps are what to do now, in this order.
func (c *Case) waterSteps() []string {
	steps := []string{Aerate, testNow, ChangeWater}
	if c.Seen(layers.DeadAnimal, layers.PlantMelt, layers.WhiteThreads) {
		steps = append(steps, takeOut)
	}
	if c.Seen(layers.DeadAnimal, layers.Gasping) {
		steps = append(steps, moveAnimals)
	}
	return append(steps, handsOff, feedNothing)
}

// whileWater is what to do with the bed meanwhile, and when that ends.
const whileWater = "Leave the bed as it is until the water is right again: until new tests are within their limits, a new core notes no trouble, and oxygen is not short before the lights come on."

// urgent is the advice where the water comes first and nothing is known about the bed.
func (c *Case) urgent() *reports.Advice {
	a := &reports.Advice{
		Action: reports.Leave, Confidence: 1, Shares: reports.Shares{Leave: 1}, Clarity: reports.Clear, LimitedBy: []string{},
		How: whileWater, WaterFirst: []string{}, Later: []string{noCore}, First: c.waterSteps(),
		Because: []reports.Reason{}, Against: []reports.Reason{}, Cautions: c.Cautions(reports.Leave), WaitDays: alarmWait, NextReading: c.AsOf + alarmWait,
	}
	for _, alarm := range c.alarms() {
		a.WaterFirst = append(a.WaterFirst, alarm.text)
		a.Because = append(a.Because, reports.Reason{Rule: alarm.name, Text: alarm.text, Share: 1, Mark: alarm.mark})
	}
	return a
}

// later is the advice on the bed for when the water is right again.
func (c *Case) later() []string {
	bed := mostOf(c.verdict.bed)
	list := []string{c.laterWords(bed)}
	for i := range rules[:fallback] {
		if r := &rules[i]; r.decides && !r.distress && r.action == bed && c.verdict.heard(i) {
			list = append(list, r.text(c))
		}
	}
	return list
}

// laterWords is advice on the bed while the water comes first.
func (c *Case) laterWords(bed reports.Action) string {
	switch {
	case c.Swelling.Odds >= 1:
		return "Leave the bed alone: black is swelling up through it, and disturbing it would set free what it holds."
	case bed == reports.Stir:
		return "The bed itself calls for stirring: rehearse that once the water is right and stays right."
	case bed == reports.Siphon:
		return "The top of the bed calls for siphoning: rehearse that once the water is right and stays right."
	}
	return "Nothing in the bed needs doing."
}

const noCore = "No core has been read yet, so nothing can be said about the bed. Read one first."
