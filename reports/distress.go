package reports

import (
	"fmt"

	"panecore/layers"
)

// alarmWait is when to look again while the water comes first, days (common practice, no source).
const alarmWait = 2

// alarms are what was seen or measured lately that makes the water more urgent than the bed.
// Nothing of it is drawn: no doubt about layers makes gasping animals less urgent.
func (f *facts) alarms() (list []signal) {
	add := func(name, mark string, since layers.Date, format string, args ...any) {
		list = append(list, signal{name: name, mark: mark, since: since, text: fmt.Sprintf(format, args...)})
	}
	if at := f.recent[layers.Gasping]; at != 0 && !f.lifted(at) {
		add("gasping", practice, at, "Animals gasped on %s%s: they are short of oxygen, or something in the water burns their gills.", at, ago(at, f.asOf))
	}
	if low := f.tests.low; low != nil {
		add("oxygen-measured-short", "USEPA 1986, 3 mg/L as the least of a day (from memory)", low.date,
			"Oxygen stood at %s%s, under the limit of %s, and nothing measured since lifts that.", low.words(), ago(low.date, f.asOf), f.limitText(layers.LimitOxygen))
	}
	a := f.tests.ammonia
	if a.known() && a.unionised() > f.limits[layers.LimitAmmonia].value {
		add("ammonia-measured-over", layers.LimitAmmonia.Rule().Source, a.date,
			"Un-ionised ammonia stands at %.3f mg N/L by the test of %s%s, over the limit of %s.", a.unionised(), a.date, ago(a.date, f.asOf), f.limitText(layers.LimitAmmonia))
	}
	if a != nil && a.total > f.limits[layers.LimitTotalAmmonia].value {
		add("total-ammonia-over", layers.LimitTotalAmmonia.Rule().Source, a.date,
			"Total ammonia stands at %g mg N/L by the test of %s%s, over the limit of %s whatever the pH.", a.total, a.date, ago(a.date, f.asOf), f.limitText(layers.LimitTotalAmmonia))
	}
	if at := f.recent[layers.DeadAnimal]; at != 0 {
		if want := f.want(len(list) > 0); want != "" {
			add("dead-animal-in-want", practice, at, "An animal died on %s%s, and %s.", at, ago(at, f.asOf), want)
		}
	}
	if at := f.recent[layers.EggSmell]; at != 0 && (len(list) > 0 || f.decay()) {
		add("egg-smell-in-distress", practice, at, "It smelt of eggs on %s%s, which is hydrogen sulphide, while the tank is in trouble.", at, ago(at, f.asOf))
	}
	return list
}

// lifted reports whether what was seen on a day has passed: a core read since notes no
// trouble, and an oxygen measured before the lights came on was not short.
func (f *facts) lifted(day layers.Date) bool {
	return f.calm > day && f.tests.low == nil && f.tests.dawn != nil && f.tests.dawn.date > day
}

// want is what says, beside a dead animal, that the tank lacks something; empty: nothing does.
func (f *facts) want(alarmed bool) string {
	switch {
	case f.deaths > 1:
		return fmt.Sprintf("it was not the only one in %g days", f.limits[layers.LimitDecayDays].value)
	case alarmed:
		return "the water is short of something too"
	case f.seen(layers.EggSmell, layers.PlantMelt, layers.WhiteThreads):
		return "there are more signs of decay: " + f.signs(layers.EggSmell, layers.PlantMelt, layers.WhiteThreads)
	case f.flow == layers.Still:
		return "still water gets little oxygen"
	}
	return ""
}

// Measures for the water, in the order in which they are told (common practice, no source).
const (
	moveAnimals = "If the animals do not settle within the hour, move them to clean, matched, aerated water."
	handsOff    = "Keep hands, hose and stick out of the bed until the water has come right."
	feedNothing = "Feed nothing until then."
	testNow     = "Test oxygen, ammonia, nitrite, pH and temperature now, and oxygen again before the lights come on."
)

// waterSteps are what to do now.
func (f *facts) waterSteps() []string {
	steps := []string{aerate, changeWater}
	if f.seen(layers.DeadAnimal, layers.PlantMelt, layers.WhiteThreads) {
		steps = append(steps, takeOutDead)
	}
	return append(steps, moveAnimals, handsOff, feedNothing, testNow)
}

// whileWater is what is done with the bed meanwhile.
const whileWater = "Leave the bed as it is until the water has come right."

// urgent is the advice where the water comes first, of a tank whose bed nothing is known of.
func (o *outlook) urgent() *Advice {
	a := &Advice{
		Action: Leave, Confidence: 1, Shares: Shares{Leave: 1}, Clarity: Clear, LimitedBy: []string{},
		How: whileWater, WaterFirst: []string{}, Later: []string{noCore}, First: o.waterSteps(),
		Because: []Reason{}, Against: []Reason{}, Cautions: o.cautions(Leave), WaitDays: alarmWait, NextReading: o.asOf + alarmWait,
	}
	for _, alarm := range o.alarms() {
		a.WaterFirst = append(a.WaterFirst, alarm.text)
		a.Because = append(a.Because, Reason{Rule: alarm.name, Text: alarm.text, Share: 1, Mark: alarm.mark})
	}
	return a
}

// later is what the bed says for when the water has come right, as if nothing else were amiss.
func (o *outlook) later(v *verdict) []string {
	bed := mostOf(v.bed)
	list := []string{laterWords(bed)}
	for i := range rules[:fallback] {
		if r := &rules[i]; r.decides && !r.distress && r.action == bed && v.heard(i) {
			list = append(list, r.text(o))
		}
	}
	return list
}

// laterWords are what an advice on the bed comes to while the water comes first.
func laterWords(bed Action) string {
	switch bed {
	case Stir:
		return "The bed would be for stirring: rehearse that once the water has come right and stays so."
	case Siphon:
		return "The top of the bed would be for siphoning: rehearse that once the water has come right and stays so."
	}
	return "Nothing in the bed asks for a hand."
}

const noCore = "No core has been read: nothing can be said of the bed. Read one first."
