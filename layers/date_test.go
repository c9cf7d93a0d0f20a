package layers

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// today stands for the day on which the test documents are read, 2026-11-25.
const today Date = 20782

func TestParseDate(t *testing.T) {
	for _, test := range []struct {
		in   string
		want Date
	}{
		{"1980-01-01", FirstDate},
		{"2026-11-25", today},
		{"2024-02-29", 19782}, // 2024 was a leap year
		{"2000-02-29", 11016}, // and 2000, by the rule of 400
		{"9999-12-31", 2932896},
	} {
		got, err := ParseDate(test.in)
		if err != nil || got != test.want {
			t.Errorf("ParseDate(%q) = %d, %v, want %d", test.in, got, err, test.want)
		}
	}
}

func TestParseDate_refused(t *testing.T) {
	const calendarDay = ", want a day of the calendar as YYYY-MM-DD"
	for in, want := range map[string]string{
		"":                     calendarDay,
		"2026-02-30":           calendarDay,
		"2025-02-29":           calendarDay,
		"2100-02-29":           calendarDay,
		"2026-13-01":           calendarDay,
		"2026-00-10":           calendarDay,
		"2026-10-00":           calendarDay,
		"2026-11-1":            calendarDay,
		"26-11-01":             calendarDay,
		"01.11.2026":           calendarDay,
		"2026/11/01":           calendarDay,
		"2026-11-01T00:00:00Z": calendarDay,
		" 2026-11-01":          calendarDay,
		"+026-11-01":           calendarDay,
		"1979-12-31":           ", want 1980-01-01 or later",
	} {
		if _, err := ParseDate(in); err == nil || err.Error() != "found date \""+in+"\""+want {
			t.Errorf("ParseDate(%q): %v", in, err)
		}
	}
}

func TestDate_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		date := Date(rapid.Int32Range(int32(FirstDate), 2932896).Draw(t, "date"))
		again, err := ParseDate(date.String())
		if err != nil || again != date {
			t.Fatalf("%d is written %s and read as %d, %v", date, date, again, err)
		}
		if standard := time.Unix(int64(date)*86400, 0).UTC().Format(time.DateOnly); standard != date.String() {
			t.Fatalf("%d is written %s, want %s", date, date, standard)
		}
	})
}

func TestDate_notGiven(t *testing.T) {
	if text, err := Date(0).MarshalJSON(); err != nil || string(text) != "null" {
		t.Errorf("the zero date is written %q, %v, want nothing", text, err)
	}
}

func TestDateOf_timeZone(t *testing.T) {
	kiritimati := time.FixedZone("+14", 14*60*60)
	late := time.Date(2026, 11, 24, 23, 0, 0, 0, time.UTC)
	if got := DateOf(late.In(kiritimati)); got != today {
		t.Errorf("got %s, want the day of the clock on the wall, %s", got, today)
	}
}

func TestDate_Months(t *testing.T) {
	// 400 Gregorian years are 146,097 days and 4,800 months.
	if got := Date(10000).Months(10000 + 146097); got != 4800 {
		t.Errorf("got %v months, want 4800", got)
	}
}
