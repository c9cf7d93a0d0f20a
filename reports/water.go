package reports

import (
	"fmt"
	"math"
	"slices"
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
	acid    *acidity     // nil: no pH lately
	stale   []string     // what would speak if it were not too old, a sentence each
	grave   []string     // the same of what was past its limit
}

// ammoniaTest is total ammonia with what tells its un-ionised share.
type ammoniaTest struct {
	date  layers.Date
	total float64 // mg N/L
	ph    float64 // zero: not known
	swing float64 // the highest of the week's too; zero: not known
	tempC float64 // meaningful where warm
	warm  bool

	phDate, warmDate layers.Date
}

// known reports whether the un-ionised share is.
func (t *ammoniaTest) known() bool { return t != nil && t.ph != 0 && t.warm }

// unionised is what the test says by its own numbers, mg N/L.
func (t *ammoniaTest) unionised() float64 { return t.total * bed.UnionisedShare(t.ph, t.tempC) }

// The pH and the temperatures between which a water lies of which they were not measured
// (assumptions, but for water's freezing).
const (
	mostPH       = 8.5
	coldestWater = 0.0  // °C
	warmestWater = 30.0 // °C
)

// atLeast is the least un-ionised ammonia that the test leaves possible, mg N/L: that of water
// about to freeze where no temperature is known, none where no pH is.
func (t *ammoniaTest) atLeast() float64 {
	switch {
	case t.ph == 0:
		return 0
	case !t.warm:
		return t.total * bed.UnionisedShare(t.ph, coldestWater)
	}
	return t.unionised()
}

// lacks says what the un-ionised part can't be told without.
func (t *ammoniaTest) lacks() string {
	switch {
	case t.ph == 0 && !t.warm:
		return "a pH and a temperature"
	case t.ph == 0:
		return "a pH"
	}
	return "a temperature"
}

// atMost is the most that is still likely, mg N/L.
func (t *ammoniaTest) atMost() float64 {
	ph, celsius := t.swing, t.tempC
	if ph == 0 {
		ph = mostPH
	}
	if !t.warm {
		celsius = warmestWater
	}
	return t.total * bed.UnionisedShare(ph, celsius)
}

// warmth is a temperature of the water, °C.
type warmth struct {
	date    layers.Date
	celsius float64
}

// The middle of what such tanks are kept in, from which the worse of two tests of one day is
// told where their order is not (assumptions).
const (
	mildC  = 22 // °C
	mildPH = 7.2
)

// swingDays is how long a pH speaks for the day's swing of another day, days (assumption: the
// plants and the light of a week).
const swingDays = 7

// acidity is the pH of the newest day that one was measured on, and its range in the
// swingDays up to then.
type acidity struct {
	date      layers.Date
	low, high float64
	dayHigh   float64 // the highest of that day
	before    float64 // the last before that day, within swingDays; zero: none
	newest    float64
}

// readAcidity gathers the pH of the days up to asOf, nil where none was measured lately.
func readAcidity(list []layers.WaterTest, asOf layers.Date) (a *acidity) {
	for _, w := range list {
		if w.PH != nil && asOf-w.Date <= staleWaterDays {
			a = &acidity{date: w.Date, low: *w.PH, high: *w.PH, newest: *w.PH}
		}
	}
	if a == nil {
		return nil
	}
	for _, w := range list {
		if w.PH == nil || a.date-w.Date > swingDays {
			continue
		}
		a.low, a.high = min(a.low, *w.PH), max(a.high, *w.PH)
		if w.Date < a.date {
			a.before = *w.PH
		} else {
			a.dayHigh = max(a.dayHigh, *w.PH)
			if w.Time == "" && math.Abs(*w.PH-mildPH) > math.Abs(a.newest-mildPH) { // it may be the day's last
				a.newest = *w.PH
			}
		}
	}
	return a
}

// newTests reads water tests that end at asOf and stand in the order of time.
func newTests(list []layers.WaterTest, asOf layers.Date, limits *[limitCount]limit) *tests {
	t := &tests{}
	for _, w := range list {
		if w.TemperatureC != nil && asOf-w.Date <= staleTemperatureDays {
			t.warmth = &warmth{w.Date, *w.TemperatureC}
		}
	}
	for _, w := range list { // one without a time may be the day's last
		if warm := t.warmth; warm != nil && w.TemperatureC != nil && w.Time == "" && w.Date == warm.date && math.Abs(*w.TemperatureC-mildC) > math.Abs(warm.celsius-mildC) {
			warm.celsius = *w.TemperatureC
		}
	}
	t.acid = readAcidity(list, asOf)
	t.oxygen(list, asOf, limits[layers.LimitOxygen].value)
	t.readAmmonia(list, asOf, limits)
	return t
}

// readAmmonia finds the newest total ammonia; of several of one day the last, or the most where
// their order is not told. Its pH is the highest of its day, when most of it is un-ionised, or
// else of the newest day that has one; its temperature its own, or else the newest.
func (t *tests) readAmmonia(list []layers.WaterTest, asOf layers.Date, limits *[limitCount]limit) {
	var a ammoniaTest
	for _, w := range list {
		if w.TotalAmmonia == nil || w.Date == a.date && w.Time == "" && *w.TotalAmmonia < a.total {
			continue
		}
		a = ammoniaTest{date: w.Date, total: *w.TotalAmmonia, warm: w.TemperatureC != nil}
		if a.warm {
			a.tempC, a.warmDate = *w.TemperatureC, w.Date
		}
	}
	if a.date == 0 {
		return
	}
	for _, w := range list { // one without a time may be the day's last
		if w.Date == a.date && w.Time == "" && w.TotalAmmonia != nil && *w.TotalAmmonia > a.total {
			a.total = *w.TotalAmmonia
		}
		if w.Date == a.date && w.PH != nil {
			a.ph, a.phDate = max(a.ph, *w.PH), a.date
		}
	}
	stale := asOf-a.date > staleWaterDays
	if !stale && t.acid != nil {
		if a.ph == 0 {
			a.ph, a.phDate = t.acid.dayHigh, t.acid.date
		}
		a.swing = max(a.ph, t.acid.high)
	}
	if !a.warm && t.warmth != nil {
		a.tempC, a.warm, a.warmDate = t.warmth.celsius, true, t.warmth.date
	}
	if stale {
		over := a.total > limits[layers.LimitTotalAmmonia].value || a.atLeast() > limits[layers.LimitAmmonia].value
		t.old(fmt.Sprintf("The %g mg N/L of total ammonia", a.total), a.date, asOf, over)
		return
	}
	t.ammonia = &a
}

// old notes a test that is too old to count.
func (t *tests) old(what string, date, asOf layers.Date, gravely bool) {
	text := fmt.Sprintf("%s measured on %s, %d days ago, is too old to count: a water test speaks for %d days.", what, date, asOf-date, staleWaterDays)
	if gravely {
		t.grave = append(t.grave, text)
	} else {
		t.stale = append(t.stale, text)
	}
}

// A daytime is the part of the day that an oxygen was measured in.
type daytime int8

const (
	untimed daytime = iota
	byDawn          // before plants have added to what the night left
	byDay
)

// The hours from and before which a measured oxygen is taken for what the night leaves: the
// dark has used most of it, and plants have not yet added to it (assumptions).
const (
	earliestDawn = 3
	latestDawn   = 10
)

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
	case earliestDawn <= hour && hour < latestDawn:
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
// later one of the dawn, or of a later day at the same hour or an earlier one: light makes up
// by noon for what the night lacked.
func (t *tests) oxygen(list []layers.WaterTest, asOf layers.Date, limit float64) {
	var newest *oxygenTest
	var short []*oxygenTest // that nothing has lifted so far
	for _, w := range list {
		if w.OxygenMGPerL == nil {
			continue
		}
		test := &oxygenTest{w.Date, w.Time, *w.OxygenMGPerL}
		newest = test
		if test.oxygen < limit {
			short = append(short, test)
		} else {
			short = slices.DeleteFunc(short, test.lifts)
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
	switch low := lastOf(short); {
	case newest == nil:
	case low != nil && asOf-low.date <= staleWaterDays:
		t.low = low
	case low != nil:
		t.old(fmt.Sprintf("The oxygen of %.1f mg/L", low.oxygen), low.date, asOf, true)
	case asOf-newest.date > staleWaterDays:
		t.old(fmt.Sprintf("The oxygen of %.1f mg/L", newest.oxygen), newest.date, asOf, false)
	}
}

func lastOf(list []*oxygenTest) *oxygenTest {
	if len(list) == 0 {
		return nil
	}
	return list[len(list)-1]
}

// lifts reports whether a test that is not short takes back what a short one before it says.
func (t *oxygenTest) lifts(low *oxygenTest) bool {
	switch {
	case t.daytime() == byDawn:
		return t.date > low.date || low.daytime() == byDawn
	case t.daytime() == untimed || low.daytime() == untimed:
		return false
	}
	day, hour := t.evening()
	lowDay, lowHour := low.evening()
	return day > lowDay && hour <= lowHour
}

// evening is the day whose light a test not of the dawn stands after, and the hour counted
// from its midnight: 00:30 is half past 24 of the day before.
func (t *oxygenTest) evening() (day layers.Date, hour float64) {
	if hour = t.hour(); hour < earliestDawn {
		return t.date - 1, hour + 24
	}
	return t.date, hour
}

// besideOxygen writes an oxygen beside its limit, both mg/L: with so many decimals that they
// differ.
func besideOxygen(oxygen, limit float64) string {
	if text := fmt.Sprintf("%.1f", oxygen); text != fmt.Sprintf("%.1f", limit) {
		return text + " mg/L"
	}
	return fmt.Sprintf("%.2f mg/L", oxygen)
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

// Temperatures outside of these are told, °C, and outside of the wider ones the water comes
// first (common practice, no source: what fish, shrimp and snails of such tanks are kept in,
// and what few of them outlive).
const (
	coldest, warmest      = 12, 30
	deadlyCold, deadlyHot = 3, 35
)

// A pH outside of these is told (USEPA 1986, 6.5 to 9 for fresh water, from memory; tanks of
// peat and leaves are kept lower, common practice), and outside of the wider ones the water
// comes first (common practice, no source). So is one that moves by more than phJump from one
// day to another of a week (common practice, no source).
const (
	lowestPH, highestPH    = 5.5, 9
	deadlyAcid, deadlyBase = 4.5, 10
	phJump                 = 1.5
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
