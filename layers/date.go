package layers

import (
	"fmt"
	"time"
)

// Date is a calendar day, counted from 1970-01-01 (the proleptic Gregorian
// calendar). The zero value means "not given": no tank is older than FirstDate.
type Date int32

// FirstDate is the oldest date a logbook takes, 1980-01-01 (assumption: no
// tank kept today was set up before it).
const FirstDate Date = 3652

// DaysPerMonth is the mean length of a Gregorian month, 365.2425/12 days.
const DaysPerMonth = 30.436875

const dateLayout = "2006-01-02"

// ParseDate reads an ISO 8601 calendar date, YYYY-MM-DD, and nothing else.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(dateLayout, s)
	if err != nil {
		return 0, fmt.Errorf("found date %q, want a day of the calendar as YYYY-MM-DD", s)
	}
	d := DateOf(t)
	if d < FirstDate {
		return 0, fmt.Errorf("found date %q, want %s or later", s, FirstDate)
	}
	return d, nil
}

// DateOf is the calendar day of t in t's own time zone.
func DateOf(t time.Time) Date {
	year, month, day := t.Date()
	return Date(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / (24 * 60 * 60))
}

// String writes YYYY-MM-DD, or nothing for the zero date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return time.Unix(int64(d)*24*60*60, 0).UTC().Format(dateLayout)
}

// MarshalText writes the date as String does.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// Months is the time from d to later in mean months.
func (d Date) Months(later Date) float64 { return float64(later-d) / DaysPerMonth }
