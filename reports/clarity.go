package reports

import (
	"fmt"

	"panecore/layers"
)

// The shares of the draws from which on a reading counts as clear, as fairly clear and as
// unclear rather than divided (assumptions).
const (
	clearShare   = 0.95
	fairlyShare  = 0.8
	unclearShare = 0.6
)

// oldCoreDays is how old the newest core may be for a clear advice, days (assumption: one
// monthly reading left out, and half of the next wait).
const oldCoreDays = 45

// unclearWait is when to read again where the reading is unclear, days (assumption).
const unclearWait = 14

// clarity is how clear the reading behind a share of the draws is: no clearer than the share,
// and no clearer than the record bears, whose limits are told.
func (o *outlook) clarity(share float64) (clarity Clarity, limited []string) {
	level := 3
	switch {
	case share >= clearShare:
		level = 0
	case share >= fairlyShare:
		level = 1
	case share >= unclearShare:
		level = 2
	}
	limited = []string{}
	atMost := func(most int, why string) {
		level, limited = max(level, most), append(limited, why)
	}
	if len(o.newest) == 1 {
		atMost(1, "one station only")
	}
	switch days := o.readDays(); {
	case days > oldReadingDays:
		atMost(2, fmt.Sprintf("the newest core is %d days old", days))
	case days > oldCoreDays:
		atMost(1, fmt.Sprintf("the newest core is %d days old", days))
	}
	for _, why := range o.doubts() {
		atMost(2, why)
	}
	return [...]Clarity{Clear, FairlyClear, Unclear, Divided}[level], limited
}

// lastRead is the day of the newest core.
func (o *outlook) lastRead() (day layers.Date) {
	for _, r := range o.newest {
		day = max(day, r.core.Date)
	}
	return day
}

// readDays is how old the newest core is, days.
func (o *outlook) readDays() int { return int(o.asOf - o.lastRead()) }

// doubts are what is in doubt of the newest readings, a few words each.
func (o *outlook) doubts() (list []string) {
	for _, r := range o.newest {
		switch {
		case r.unreliable():
			list = append(list, fmt.Sprintf("the photo of %s on %s is not reliable", r.core.Station, r.core.Date))
		case r.doubted():
			list = append(list, fmt.Sprintf("the core of %s on %s does not fit the record", r.core.Station, r.core.Date))
		}
	}
	return list
}
