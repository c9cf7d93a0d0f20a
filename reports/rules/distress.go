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
// Nothing of it is drawn: no doubt about layers makes gasping animals less urgent.
func (c *Case) alarms() (list []signal) {
	add := func(name, mark string, since layers.Date, format string, args ...any) {
		list = append(list, signal{name: name, mark: mark, since: since, text: fmt.Sprintf(format, args...)})
	}
	if at := c.lately(layers.Gasping); at != 0 {
		add("gasping", practice, at, "Animals gasped on %s%s: they were short of oxygen, or something in the water burnt their gills.", at, ago(at, c.AsOf))
	}
	c.alarmsOfTests(add)
	if at := c.lately(layers.DeadAnimal); at != 0 {
		if want := c.want(at, len(list) > 0); want != "" {
			add("dead-animal-in-want", practice, at, "An animal died on %s%s, and %s.", at, ago(at, c.AsOf), want)
		}
	}
	if at := c.lately(layers.EggSmell); at != 0 && (len(list) > 0 || c.Decay()) {
		add("egg-smell-in-distress", practice, at, "It smelt of eggs on %s%s, which is hydrogen sulphide, while the tank is in trouble.", at, ago(at, c.AsOf))
	}
	return list
}

// alarmsOfTests are those that were measured.
func (c *Case) alarmsOfTests(add func(name, mark string, since layers.Date, format string, args ...any)) {
	if low := c.Tests.Low; low != nil {
		limit := c.Limit(layers.LimitOxygen)
		add("oxygen-measured-short", "USEPA 1986, 3 mg/L as the least of a day (from memory)", low.Date,
			"Oxygen stood at %s on %s%s, under the limit of %s, and nothing measured since lifts that.", besideOxygen(low.Oxygen, limit), low.When(), ago(low.Date, c.AsOf), c.limitText(layers.LimitOxygen))
	}
	if a := c.Tests.Ammonia; a != nil {
		if least := a.AtLeast(); least > c.Limit(layers.LimitAmmonia) {
			format := "Un-ionised ammonia stood at %.4f mg N/L by the test of %s%s, over the limit of %s."
			if !a.Warm {
				format = "Even in water at 0 °C un-ionised ammonia would stand at %.4f mg N/L by the test of %s%s, over the limit of %s."
			}
			add("ammonia-measured-over", layers.LimitAmmonia.Rule().Source, a.Date, format, least, a.Date, ago(a.Date, c.AsOf), c.limitText(layers.LimitAmmonia))
		}
		if a.Total > c.Limit(layers.LimitTotalAmmonia) {
			add("total-ammonia-over", layers.LimitTotalAmmonia.Rule().Source, a.Date,
				"Total ammonia stood at %g mg N/L by the test of %s%s, over the limit of %s whatever the pH.", a.Total, a.Date, ago(a.Date, c.AsOf), c.limitText(layers.LimitTotalAmmonia))
		}
	}
	if w := c.Tests.Warmth; w != nil && c.AsOf-w.Date <= infer.StaleWaterDays && (w.Celsius < deadlyCold || w.Celsius > deadlyHot) {
		add("deadly-temperature", practice, w.Date, "The water stood at %g °C on %s%s, which few animals of such tanks outlive.", w.Celsius, w.Date, ago(w.Date, c.AsOf))
	}
	if a := c.Tests.Acid; a != nil && (a.Newest < deadlyAcid || a.Newest > deadlyBase) {
		add("deadly-ph", practice, a.Date, "The pH stood at %g on %s%s, which few animals of such tanks outlive.", a.Newest, a.Date, ago(a.Date, c.AsOf))
	}
}

// lately is the day on which a sign was seen last, zero where it was not within alarmDays or
// has passed: a core read since notes no trouble, and an oxygen measured since, before the
// lights came on, was not short.
func (c *Case) lately(sign layers.Sign) layers.Date {
	at := c.Recent[sign]
	if at == 0 || c.AsOf-at > infer.AlarmDays || c.Calm > at && c.fineDawn(at+1) {
		return 0
	}
	return at
}

// fineDawn reports whether an oxygen of the dawn, measured from a day on, was not short and
// nothing short has come since.
func (c *Case) fineDawn(from layers.Date) bool {
	return c.Tests.Low == nil && c.Tests.Dawn != nil && c.Tests.Dawn.Date >= from
}

// want is what says, beside an animal that died on a day, that the tank lacks something;
// empty: nothing does.
func (c *Case) want(died layers.Date, alarmed bool) string {
	switch {
	case c.Deaths > 1:
		return fmt.Sprintf("it was not the only one in %d days", infer.AlarmDays)
	case alarmed:
		return "the water is short of something too"
	case c.Seen(layers.EggSmell, layers.PlantMelt, layers.WhiteThreads):
		return "there are more signs of decay: " + c.signs(layers.EggSmell, layers.PlantMelt, layers.WhiteThreads)
	case c.Flow == layers.Still && !c.fineDawn(died):
		return "still water gets little oxygen"
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

// whileWater is what is done with the bed meanwhile, and how that ends.
const whileWater = "Leave the bed as it is until the water has come right: until new tests lie within their limits, and a core read since notes no trouble beside an oxygen that is not short before the lights come on."

// urgent is the advice where the water comes first, of a tank whose bed nothing is known of.
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

// later is what the bed says for when the water has come right, as if nothing else were amiss.
func (c *Case) later() []string {
	bed := mostOf(c.verdict.bed)
	list := []string{laterWords(bed)}
	for i := range rules[:fallback] {
		if r := &rules[i]; r.decides && !r.distress && r.action == bed && c.verdict.heard(i) {
			list = append(list, r.text(c))
		}
	}
	return list
}

// laterWords are what an advice on the bed comes to while the water comes first.
func laterWords(bed reports.Action) string {
	switch bed {
	case reports.Stir:
		return "The bed would be for stirring: rehearse that once the water has come right and stays so."
	case reports.Siphon:
		return "The top of the bed would be for siphoning: rehearse that once the water has come right and stays so."
	}
	return "Nothing in the bed asks for a hand."
}

const noCore = "No core has been read: nothing can be said of the bed. Read one first."
