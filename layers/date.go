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

const (
	dateLayout    = "2006-01-02"
	secondsPerDay = 24 * 60 * 60
)

// ParseDate reads an ISO 8601 calendar date, YYYY-MM-DD, and nothing else.
func ParseDate(s string) (Date, error) {
	d, want := parseDate(s)
	if want != "" {
		return 0, fmt.Errorf("found date %q, want %s", s, want)
	}
	return d, nil
}

// parseDate is ParseDate without its error: want says what a date should be, and
// is empty for a good one. The decoder reads hundreds of thousands of dates
// straight from its buffer, which time.Parse would make strings of.
func parseDate[Text string | []byte](s Text) (d Date, want string) {
	const calendarDay = "a day of the calendar as YYYY-MM-DD"
	if len(s) != len(dateLayout) || s[4] != '-' || s[7] != '-' {
		return 0, calendarDay
	}
	year, ok1 := parseDigits(s[:4])
	month, ok2 := parseDigits(s[5:7])
	day, ok3 := parseDigits(s[8:])
	if !ok1 || !ok2 || !ok3 {
		return 0, calendarDay
	}
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if int(t.Month()) != month || t.Day() != day { // 30 February rolls over
		return 0, calendarDay
	}
	if d = DateOf(t); d < FirstDate {
		return 0, FirstDate.String() + " or later"
	}
	return d, ""
}

// parseDigits reads decimal digits only; there are few enough not to overflow.
func parseDigits[Text string | []byte](s Text) (n int, ok bool) {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = 10*n + int(s[i]-'0')
	}
	return n, true
}

// DateOf is the calendar day of t in t's own time zone.
func DateOf(t time.Time) Date {
	year, month, day := t.Date()
	return Date(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / secondsPerDay)
}

// String writes YYYY-MM-DD, or nothing for the zero date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return time.Unix(int64(d)*secondsPerDay, 0).UTC().Format(dateLayout)
}

// MarshalJSON writes the date as a JSON string, the zero date as null.
func (d Date) MarshalJSON() ([]byte, error) {
	if d == 0 {
		return []byte("null"), nil
	}
	return []byte(`"` + d.String() + `"`), nil
}

// Months is the time from d to later in mean months.
func (d Date) Months(later Date) float64 { return float64(later-d) / DaysPerMonth }
