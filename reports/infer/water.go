package infer

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/reports"
)

// StaleWaterDays is how old a water test may be and still count, days (assumption).
const StaleWaterDays = 30

// WaterTests are what the water tests say of a tank as of a day.
type WaterTests struct {
	Ammonia *AmmoniaTest // the newest total ammonia; nil: none lately
	Low     *OxygenTest  // oxygen short of its limit with no later test that lifts it; nil: none lately
	Dawn    *OxygenTest  // the newest oxygen measured at dawn, before plants have added to it; nil: none lately
	Ceiling *OxygenTest  // a later one at another hour, which caps what the dark leaves; nil: none
	Warmth  *Warmth      // the newest temperature; nil: none lately
	Acid    *Acidity     // nil: no pH lately
	Stale   []string     // tests too old to count, a sentence each
	Grave   []string     // the same for those past their limit
}

// AmmoniaTest is total ammonia with what gives its un-ionised share.
type AmmoniaTest struct {
	Date  layers.Date
	Total float64 // mg N/L
	ph    float64 // zero: not known
	Swing float64 // the highest pH of the week; zero: not known
	TempC float64 // meaningful where Warm
	Warm  bool    // a temperature is known

	PhDate, WarmDate layers.Date
}

// Known reports whether the un-ionised share is known.
func (t *AmmoniaTest) Known() bool { return t != nil && t.ph != 0 && t.Warm }

// The highest pH and the range of temperatures of water in which they were not measured
// (assumptions, except for freezing).
const (
	mostPH       = 8.5
	coldestWater = 0.0  // °C
	warmestWater = 30.0 // °C
)

// AtLeast is the least un-ionised ammonia that the test allows, mg N/L: that of water about to
// freeze if no temperature is known, zero if no pH is.
func (t *AmmoniaTest) AtLeast() float64 {
	switch {
	case t.ph == 0:
		return 0
	case !t.Warm:
		return t.Total * bed.UnionisedShare(t.ph, coldestWater)
	}
	return t.Total * bed.UnionisedShare(t.ph, t.TempC)
}

// Lacks says what is missing to work out the un-ionised part.
func (t *AmmoniaTest) Lacks() string {
	switch {
	case t.ph == 0 && !t.Warm:
		return "a pH and a temperature"
	case t.ph == 0:
		return "a pH"
	}
	return "a temperature"
}

// AtMost is the most that is still likely, mg N/L.
func (t *AmmoniaTest) AtMost() float64 {
	ph, celsius := t.Swing, t.TempC
	if ph == 0 {
		ph = mostPH
	}
	if !t.Warm {
		celsius = warmestWater
	}
	return t.Total * bed.UnionisedShare(ph, celsius)
}

// Warmth is a temperature of the water, °C.
type Warmth struct {
	Date    layers.Date
	Celsius float64
}

// The middle of what such tanks are kept in. Of two tests on one day whose order is not known, the
// one further from it counts (assumptions).
const (
	mildC  = 22 // °C
	mildPH = 7.2
)

// swingDays is for how many days a pH belongs to one daily swing (assumption: plants and light
// change little in a week).
const swingDays = 7

// Acidity is the pH on the newest day that it was measured, and its range in the swingDays up to
// then.
type Acidity struct {
	Date      layers.Date
	low, high float64
	dayHigh   float64 // the highest of that day
	Before    float64 // the last before that day, within swingDays; zero: none
	Newest    float64
}

// readAcidity gathers the pH up to asOf, nil if none was measured lately.
func readAcidity(list []layers.WaterTest, asOf layers.Date) (a *Acidity) {
	for _, w := range list {
		if w.PH != nil && asOf-w.Date <= StaleWaterDays {
			a = &Acidity{Date: w.Date, low: *w.PH, high: *w.PH, Newest: *w.PH}
		}
	}
	if a == nil {
		return nil
	}
	for _, w := range list {
		if w.PH == nil || a.Date-w.Date > swingDays {
			continue
		}
		a.low, a.high = min(a.low, *w.PH), max(a.high, *w.PH)
		if w.Date < a.Date {
			a.Before = *w.PH
		} else {
			a.dayHigh = max(a.dayHigh, *w.PH)
			if w.Time == "" && math.Abs(*w.PH-mildPH) > math.Abs(a.Newest-mildPH) { // it may be the day's last
				a.Newest = *w.PH
			}
		}
	}
	return a
}

// newWaterTests reads water tests sorted by time, none after f.AsOf.
func newWaterTests(list []layers.WaterTest, f *Facts) *WaterTests {
	t, asOf := &WaterTests{}, f.AsOf
	for _, w := range list {
		if w.TemperatureC != nil && asOf-w.Date <= staleTemperatureDays {
			t.Warmth = &Warmth{w.Date, *w.TemperatureC}
		}
	}
	for _, w := range list { // one without a time may be the day's last
		if warm := t.Warmth; warm != nil && w.TemperatureC != nil && w.Time == "" && w.Date == warm.Date && math.Abs(*w.TemperatureC-mildC) > math.Abs(warm.Celsius-mildC) {
			warm.Celsius = *w.TemperatureC
		}
	}
	t.Acid = readAcidity(list, asOf)
	t.oxygen(list, asOf, f.Limit(layers.LimitOxygen))
	t.readAmmonia(list, f)
	return t
}

// readAmmonia finds the newest total ammonia; of several on one day the last, or the highest if their
// order is not known. Its pH is the highest of its day, when most of it is un-ionised, or else of
// the newest day that has one; its temperature is its own, or else the newest.
func (t *WaterTests) readAmmonia(list []layers.WaterTest, f *Facts) {
	asOf := f.AsOf
	var a AmmoniaTest
	for _, w := range list {
		if w.TotalAmmonia == nil || w.Date == a.Date && w.Time == "" && *w.TotalAmmonia < a.Total {
			continue
		}
		a = AmmoniaTest{Date: w.Date, Total: *w.TotalAmmonia, Warm: w.TemperatureC != nil}
		if a.Warm {
			a.TempC, a.WarmDate = *w.TemperatureC, w.Date
		}
	}
	if a.Date == 0 {
		return
	}
	for _, w := range list { // one without a time may be the day's last
		if w.Date == a.Date && w.Time == "" && w.TotalAmmonia != nil && *w.TotalAmmonia > a.Total {
			a.Total = *w.TotalAmmonia
		}
		if w.Date == a.Date && w.PH != nil {
			a.ph, a.PhDate = max(a.ph, *w.PH), a.Date
		}
	}
	stale := asOf-a.Date > StaleWaterDays
	if !stale && t.Acid != nil {
		if a.ph == 0 {
			a.ph, a.PhDate = t.Acid.dayHigh, t.Acid.Date
		}
		a.Swing = max(a.ph, t.Acid.high)
	}
	if !a.Warm && t.Warmth != nil {
		a.TempC, a.Warm, a.WarmDate = t.Warmth.Celsius, true, t.Warmth.Date
	}
	if stale {
		over := a.Total > f.Limit(layers.LimitTotalAmmonia) || a.AtLeast() > f.Limit(layers.LimitAmmonia)
		t.old(fmt.Sprintf("The %g mg N/L of total ammonia", a.Total), a.Date, asOf, over)
		return
	}
	t.Ammonia = &a
}

// old notes a test that is too old to count.
func (t *WaterTests) old(what string, date, asOf layers.Date, gravely bool) {
	text := fmt.Sprintf("%s measured on %s, %d days ago, is too old to count: a water test counts for %d days.", what, date, asOf-date, StaleWaterDays)
	if gravely {
		t.Grave = append(t.Grave, text)
	} else {
		t.Stale = append(t.Stale, text)
	}
}

// A Daytime is the part of the day that an oxygen was measured in.
type Daytime int8

const (
	Untimed Daytime = iota
	byDawn          // before plants have added to what the night leaves
	byDay
)

// Oxygen measured from and before these hours counts as what the night leaves: the dark has used
// most of it, and plants have not yet added to it (assumptions).
const (
	EarliestDawn = 3
	LatestDawn   = 10
)

// OxygenTest is a measured oxygen.
type OxygenTest struct {
	Date   layers.Date
	clock  string  // HH:MM; empty: not given
	Oxygen float64 // mg/L
}

// Daytime is the part of the day that it was measured in.
func (t *OxygenTest) Daytime() Daytime {
	switch hour, ok := hourOfClock(t.clock); {
	case !ok:
		return Untimed
	case EarliestDawn <= hour && hour < LatestDawn:
		return byDawn
	}
	return byDay
}

// Hour is when it was measured. If that is not given, it is when the lights come on and the least is
// left: a bound there holds all day.
func (t *OxygenTest) Hour() float64 {
	if hour, ok := hourOfClock(t.clock); ok {
		return hour
	}
	return reports.DefaultLightsOn
}

// When is the day and, if given, the time: "2026-11-01 at 22:00".
func (t *OxygenTest) When() string {
	if t.clock == "" {
		return t.Date.String()
	}
	return t.Date.String() + " at " + t.clock
}

// Words describe the test: "1.0 mg/L on 2026-11-01 at 22:00".
func (t *OxygenTest) Words() string { return fmt.Sprintf("%.1f mg/L on %s", t.Oxygen, t.When()) }

// hourOfClock is HH:MM as hours; ok is false if no time is given.
func hourOfClock(clock string) (hour float64, ok bool) {
	var h, minute int
	if n, err := fmt.Sscanf(clock, "%d:%d", &h, &minute); n != 2 || err != nil {
		return 0, false
	}
	return float64(h) + float64(minute)/60, true
}

// oxygen finds the oxygen tests that count. A low one counts at any hour. It is lifted by a later
// test at dawn, or on a later day at the same hour or earlier: by noon, light makes up for what the
// night lacked.
func (t *WaterTests) oxygen(list []layers.WaterTest, asOf layers.Date, limit float64) {
	var newest *OxygenTest
	var short []*OxygenTest // not lifted so far
	for _, w := range list {
		if w.OxygenMGPerL == nil {
			continue
		}
		test := &OxygenTest{w.Date, w.Time, *w.OxygenMGPerL}
		newest = test
		if test.Oxygen < limit {
			short = append(short, test)
		} else {
			short = slices.DeleteFunc(short, test.lifts)
		}
		if asOf-test.Date > StaleWaterDays {
			continue
		}
		if test.Daytime() == byDawn {
			t.Dawn, t.Ceiling = test, nil
		} else {
			t.Ceiling = test
		}
	}
	switch low := lastOf(short); {
	case newest == nil:
	case low != nil && asOf-low.Date <= StaleWaterDays:
		t.Low = low
	case low != nil:
		t.old(fmt.Sprintf("The oxygen of %.1f mg/L", low.Oxygen), low.Date, asOf, true)
	case asOf-newest.Date > StaleWaterDays:
		t.old(fmt.Sprintf("The oxygen of %.1f mg/L", newest.Oxygen), newest.Date, asOf, false)
	}
}

func lastOf(list []*OxygenTest) *OxygenTest {
	if len(list) == 0 {
		return nil
	}
	return list[len(list)-1]
}

// lifts reports whether a test that is not short clears a short one before it.
func (t *OxygenTest) lifts(low *OxygenTest) bool {
	switch {
	case t.Daytime() == byDawn:
		return t.Date > low.Date || low.Daytime() == byDawn
	case t.Daytime() == Untimed || low.Daytime() == Untimed:
		return false
	}
	day, hour := t.evening()
	lowDay, lowHour := low.evening()
	return day > lowDay && hour <= lowHour
}

// evening is the day whose light a test after dawn follows, and the hour counted from that day's
// midnight: 00:30 is 24:30 of the day before.
func (t *OxygenTest) evening() (day layers.Date, hour float64) {
	if hour = t.Hour(); hour < EarliestDawn {
		return t.Date - 1, hour + 24
	}
	return t.Date, hour
}

// Listed joins words as in a sentence: "a, b and c".
func Listed(list []string) string {
	if n := len(list); n > 1 {
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
	return strings.Join(list, "")
}
