package reports

import (
	"fmt"
	"strings"

	"panecore/layers"
	"panecore/layers/bed"
)

// staleWaterDays is how old a water test may be and still speak of the tank, days (assumption).
const staleWaterDays = 30

// tests are what the water tests say of a tank as of a day.
type tests struct {
	ammonia *ammoniaTest // the newest total ammonia; nil: none lately
	low     *oxygenTest  // an oxygen short of its limit that nothing measured since lifts; nil: none lately
	dawn    *oxygenTest  // the newest oxygen measured before plants had added to it; nil: none lately
	ceiling *oxygenTest  // a later one of the day, which the dark holds no more than; nil: none
	warmth  *warmth      // the newest temperature; nil: none lately
	stale   []string     // what would speak if it were not too old, a sentence each
	gravely bool         // some of that was over its limit
}

// ammoniaTest is total ammonia with what tells its un-ionised share.
type ammoniaTest struct {
	date   layers.Date
	total  float64 // mg N/L
	ph     float64 // zero: not known
	tempC  float64 // meaningful where warm
	warm   bool
	phDate layers.Date
}

// known reports whether the un-ionised share is.
func (t *ammoniaTest) known() bool { return t != nil && t.ph != 0 && t.warm }

// unionised is what the test says by its own numbers, mg N/L.
func (t *ammoniaTest) unionised() float64 { return t.total * bed.UnionisedShare(t.ph, t.tempC) }

// warmth is a temperature of the water, °C.
type warmth struct {
	date    layers.Date
	celsius float64
}

// newTests reads water tests that end at asOf and stand in the order of time.
func newTests(list []layers.WaterTest, asOf layers.Date, limits *[limitCount]limit) *tests {
	t := &tests{}
	for _, w := range list {
		if w.TemperatureC != nil && asOf-w.Date <= staleTemperatureDays {
			t.warmth = &warmth{w.Date, *w.TemperatureC}
		}
	}
	t.oxygen(list, asOf, limits[layers.LimitOxygen].value)
	t.readAmmonia(list, asOf, limits)
	return t
}

// readAmmonia finds the newest total ammonia. Its pH is the highest of its day, when most of
// it is un-ionised, or else of the newest day that has one; its temperature its own, or else
// the newest.
func (t *tests) readAmmonia(list []layers.WaterTest, asOf layers.Date, limits *[limitCount]limit) {
	var a ammoniaTest
	for _, w := range list {
		if w.TotalAmmonia != nil {
			a = ammoniaTest{date: w.Date, total: *w.TotalAmmonia, warm: w.TemperatureC != nil}
			if a.warm {
				a.tempC = *w.TemperatureC
			}
		}
	}
	if a.date == 0 {
		return
	}
	stale := asOf-a.date > staleWaterDays
	for _, w := range list {
		counts := asOf-w.Date <= staleWaterDays
		if stale {
			counts = w.Date == a.date
		}
		if w.PH == nil || !counts || a.phDate == a.date && w.Date != a.date {
			continue
		}
		if w.Date != a.phDate {
			a.ph, a.phDate = 0, w.Date
		}
		a.ph = max(a.ph, *w.PH)
	}
	if !a.warm && t.warmth != nil {
		a.tempC, a.warm = t.warmth.celsius, true
	}
	if stale {
		over := a.total > limits[layers.LimitTotalAmmonia].value || a.known() && a.unionised() > limits[layers.LimitAmmonia].value
		t.old(fmt.Sprintf("The %g mg N/L of total ammonia", a.total), a.date, asOf, over)
		return
	}
	t.ammonia = &a
}

// old notes a test that is too old to count.
func (t *tests) old(what string, date, asOf layers.Date, gravely bool) {
	t.stale = append(t.stale, fmt.Sprintf("%s measured on %s, %d days ago, is too old to count: a water test speaks for %d days. Test again.",
		what, date, asOf-date, staleWaterDays))
	t.gravely = t.gravely || gravely
}

// A daytime is the part of the day that an oxygen was measured in.
type daytime int8

const (
	untimed daytime = iota
	byDawn          // before plants have added to what the night left
	byDay
)

// latestDawn is the hour up to which a measured oxygen is taken for the night's, before
// plants have added to it (assumption).
const latestDawn = 10

// oxygenTest is a measured oxygen.
type oxygenTest struct {
	date   layers.Date
	clock  string  // HH:MM; empty: not told
	oxygen float64 // mg/L
}

func (t *oxygenTest) daytime() daytime {
	switch hour, told := hourOfClock(t.clock); {
	case !told:
		return untimed
	case hour < latestDawn:
		return byDawn
	}
	return byDay
}

// hour is when it was measured; one that is not told counts as the hour at which the lights
// come on, when the least is left: what is bounded by it there is so all day.
func (t *oxygenTest) hour() float64 {
	if hour, told := hourOfClock(t.clock); told {
		return hour
	}
	return DefaultLightsOn
}

// when tells the day and, where it is told, the time: "2026-11-01 at 22:00".
func (t *oxygenTest) when() string {
	if t.clock == "" {
		return t.date.String()
	}
	return t.date.String() + " at " + t.clock
}

// words tell the test: "1.0 mg/L on 2026-11-01 at 22:00".
func (t *oxygenTest) words() string { return fmt.Sprintf("%.1f mg/L on %s", t.oxygen, t.when()) }

// hourOfClock is HH:MM as hours. The second result is false where no time is told.
func hourOfClock(clock string) (hour float64, told bool) {
	var h, minute int
	if n, err := fmt.Sscanf(clock, "%d:%d", &h, &minute); n != 2 || err != nil {
		return 0, false
	}
	return float64(h) + float64(minute)/60, true
}

// oxygen finds the oxygen tests that speak. A low one speaks at any hour. It is lifted by a
// later one of the dawn, or of the same part of the day: light makes up by noon for what the
// night lacked.
func (t *tests) oxygen(list []layers.WaterTest, asOf layers.Date, limit float64) {
	var newest, low *oxygenTest
	for _, w := range list {
		if w.OxygenMGPerL == nil {
			continue
		}
		test := &oxygenTest{w.Date, w.Time, *w.OxygenMGPerL}
		newest = test
		switch part := test.daytime(); {
		case test.oxygen < limit:
			low = test
		case low != nil && (part == byDawn || part == low.daytime()):
			low = nil
		}
		if asOf-test.date > staleWaterDays {
			continue
		}
		if test.daytime() == byDawn {
			t.dawn, t.ceiling = test, nil
		} else {
			t.ceiling = test
		}
	}
	switch {
	case newest == nil:
	case low != nil && asOf-low.date <= staleWaterDays:
		t.low = low
	case low != nil:
		t.old(fmt.Sprintf("The oxygen of %.1f mg/L", low.oxygen), low.date, asOf, true)
	case asOf-newest.date > staleWaterDays:
		t.old(fmt.Sprintf("The oxygen of %.1f mg/L", newest.oxygen), newest.date, asOf, false)
	}
}

// ago says behind a day how long before asOf it was, where it was not that day.
func ago(date, asOf layers.Date) string {
	switch days := asOf - date; days {
	case 0:
		return ""
	case 1:
		return ", yesterday"
	default:
		return fmt.Sprintf(", %d days ago", days)
	}
}

// Temperatures outside of these are told, °C (common practice, no source: what fish, shrimp
// and snails of such tanks are kept in).
const (
	coldest = 12
	warmest = 30
)

// mostDissolved is the most oxygen that water without plants or pressure holds, mg/L: its
// saturation at 0 °C and sea level (Benson & Krause 1984: 14.6).
const mostDissolved = 14.6

// unlikelyOxygen says of an oxygen of the dawn that it is more than air presses into water,
// which the night's breathing leaves less of; empty: it is not. mg/L; warmth may be nil.
func (t *tests) unlikelyOxygen(altitudeM float64) string {
	if t.dawn == nil {
		return ""
	}
	most, at := mostDissolved, "at 0 °C"
	if t.warmth != nil {
		most, at = bed.OxygenSaturation(t.warmth.celsius, bed.PressureAt(altitudeM)), fmt.Sprintf("at %g °C", t.warmth.celsius)
	}
	if t.dawn.oxygen <= most+2*z90*oxygenError {
		return ""
	}
	return fmt.Sprintf("The oxygen of %s is more than air presses into water (%.1f mg/L %s), and by night nothing adds to it: check the kit, the unit and the hour.", t.dawn.words(), most, at)
}

// listed joins words as a sentence lists them.
func listed(list []string) string {
	if n := len(list); n > 1 {
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
	return strings.Join(list, "")
}
