package reports

import (
	"fmt"

	"panecore/layers"
)

// alarmWait is when to look again while the water comes first, days (common practice, no source).
const alarmWait = 2

// alarmDays is how long trouble that was seen comes before the bed, days, where signs of decay
// count longer (assumption).
const alarmDays = 30

// alarms are what was seen or measured lately that makes the water more urgent than the bed.
// Nothing of it is drawn: no doubt about layers makes gasping animals less urgent.
func (f *facts) alarms() (list []signal) {
	add := func(name, mark string, since layers.Date, format string, args ...any) {
		list = append(list, signal{name: name, mark: mark, since: since, text: fmt.Sprintf(format, args...)})
	}
	if at := f.lately(layers.Gasping); at != 0 {
		add("gasping", practice, at, "Animals gasped on %s%s: they were short of oxygen, or something in the water burnt their gills.", at, ago(at, f.asOf))
	}
	f.alarmsOfTests(add)
	if at := f.lately(layers.DeadAnimal); at != 0 {
		if want := f.want(at, len(list) > 0); want != "" {
			add("dead-animal-in-want", practice, at, "An animal died on %s%s, and %s.", at, ago(at, f.asOf), want)
		}
	}
	if at := f.lately(layers.EggSmell); at != 0 && (len(list) > 0 || f.decay()) {
		add("egg-smell-in-distress", practice, at, "It smelt of eggs on %s%s, which is hydrogen sulphide, while the tank is in trouble.", at, ago(at, f.asOf))
	}
	return list
}

// alarmsOfTests are those that were measured.
func (f *facts) alarmsOfTests(add func(name, mark string, since layers.Date, format string, args ...any)) {
	if low := f.tests.low; low != nil {
		limit := f.limits[layers.LimitOxygen].value
		add("oxygen-measured-short", "USEPA 1986, 3 mg/L as the least of a day (from memory)", low.date,
			"Oxygen stood at %s on %s%s, under the limit of %s, and nothing measured since lifts that.", besideOxygen(low.oxygen, limit), low.when(), ago(low.date, f.asOf), f.limitText(layers.LimitOxygen))
	}
	if a := f.tests.ammonia; a != nil {
		if least := a.atLeast(); least > f.limits[layers.LimitAmmonia].value {
			format := "Un-ionised ammonia stood at %.4f mg N/L by the test of %s%s, over the limit of %s."
			if !a.warm {
				format = "Even in water at 0 °C un-ionised ammonia would stand at %.4f mg N/L by the test of %s%s, over the limit of %s."
			}
			add("ammonia-measured-over", layers.LimitAmmonia.Rule().Source, a.date, format, least, a.date, ago(a.date, f.asOf), f.limitText(layers.LimitAmmonia))
		}
		if a.total > f.limits[layers.LimitTotalAmmonia].value {
			add("total-ammonia-over", layers.LimitTotalAmmonia.Rule().Source, a.date,
				"Total ammonia stood at %g mg N/L by the test of %s%s, over the limit of %s whatever the pH.", a.total, a.date, ago(a.date, f.asOf), f.limitText(layers.LimitTotalAmmonia))
		}
	}
	if w := f.tests.warmth; w != nil && f.asOf-w.date <= staleWaterDays && (w.celsius < deadlyCold || w.celsius > deadlyHot) {
		add("deadly-temperature", practice, w.date, "The water stood at %g °C on %s%s, which few animals of such tanks outlive.", w.celsius, w.date, ago(w.date, f.asOf))
	}
	if a := f.tests.acid; a != nil && (a.newest < deadlyAcid || a.newest > deadlyBase) {
		add("deadly-ph", practice, a.date, "The pH stood at %g on %s%s, which few animals of such tanks outlive.", a.newest, a.date, ago(a.date, f.asOf))
	}
}

// lately is the day on which a sign was seen last, zero where it was not within alarmDays or
// has passed: a core read since notes no trouble, and an oxygen measured since, before the
// lights came on, was not short.
func (f *facts) lately(sign layers.Sign) layers.Date {
	at := f.recent[sign]
	if at == 0 || f.asOf-at > alarmDays || f.calm > at && f.fineDawn(at+1) {
		return 0
	}
	return at
}

// fineDawn reports whether an oxygen of the dawn, measured from a day on, was not short and
// nothing short has come since.
func (f *facts) fineDawn(from layers.Date) bool {
	return f.tests.low == nil && f.tests.dawn != nil && f.tests.dawn.date >= from
}

// want is what says, beside an animal that died on a day, that the tank lacks something;
// empty: nothing does.
func (f *facts) want(died layers.Date, alarmed bool) string {
	switch {
	case f.deaths > 1:
		return fmt.Sprintf("it was not the only one in %d days", alarmDays)
	case alarmed:
		return "the water is short of something too"
	case f.seen(layers.EggSmell, layers.PlantMelt, layers.WhiteThreads):
		return "there are more signs of decay: " + f.signs(layers.EggSmell, layers.PlantMelt, layers.WhiteThreads)
	case f.flow == layers.Still && !f.fineDawn(died):
		return "still water gets little oxygen"
	}
	return ""
}

// Measures for the water (common practice, no source).
const (
	moveAnimals = "If the animals do not settle within the hour, move them to clean, matched, aerated water."
	takeOut     = "Take out what died or rots: animals, melting leaves."
	handsOff    = "Keep hands, hose and stick out of the bed until the water has come right."
	feedNothing = "Feed nothing until then."
	testNow     = "Test oxygen, ammonia, nitrite, pH and temperature now, and oxygen again before the lights come on."
)

// waterSteps are what to do now, in this order.
func (f *facts) waterSteps() []string {
	steps := []string{aerate, testNow, changeWater}
	if f.seen(layers.DeadAnimal, layers.PlantMelt, layers.WhiteThreads) {
		steps = append(steps, takeOut)
	}
	if f.seen(layers.DeadAnimal, layers.Gasping) {
		steps = append(steps, moveAnimals)
	}
	return append(steps, handsOff, feedNothing)
}

// whileWater is what is done with the bed meanwhile, and how that ends.
const whileWater = "Leave the bed as it is until the water has come right: until new tests lie within their limits, and a core read since notes no trouble beside an oxygen that is not short before the lights come on."

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
