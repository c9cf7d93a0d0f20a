package rules

import (
	"fmt"

	"panecore/reports"
)

// The least shares of the draws at which a reading counts as clear, as fairly clear, and as
// unclear rather than divided (assumptions).
const (
	clearShare   = 0.95
	fairlyShare  = 0.8
	unclearShare = 0.6
)

// oldCoreDays is how old the newest core may be for clear advice, days (assumption: one monthly
// reading skipped and half of the next wait).
const oldCoreDays = 45

// unclearWait is when to read again after an unclear reading, days (assumption).
const unclearWait = 14

// clarity is how clear the reading behind a share of the draws is: no clearer than the share and
// than what limits the record, which is listed.
func (c *Case) clarity(share float64) (clarity reports.Clarity, limited []string) {
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
	if len(c.Newest) == 1 {
		atMost(1, "one station only")
	}
	switch days := c.ReadDays(); {
	case days > oldReadingDays:
		atMost(2, fmt.Sprintf("the newest core is %d days old", days))
	case days > oldCoreDays:
		atMost(1, fmt.Sprintf("the newest core is %d days old", days))
	}
	for _, why := range c.doubts() {
		atMost(2, why)
	}
	return [...]reports.Clarity{reports.Clear, reports.FairlyClear, reports.Unclear, reports.Divided}[level], limited
}

// doubts are what is in doubt about the newest readings, a few words each.
func (c *Case) doubts() (list []string) {
	for _, r := range c.Newest {
		switch {
		case r.Unreliable():
			list = append(list, fmt.Sprintf("the photo of %s on %s is not reliable", r.Core.Station, r.Core.Date))
		case r.Doubted():
			list = append(list, fmt.Sprintf("the core of %s on %s does not fit the record", r.Core.Station, r.Core.Date))
		}
	}
	return list
}
