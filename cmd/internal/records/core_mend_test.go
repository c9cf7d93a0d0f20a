package records

import (
	"strings"
	"testing"

	"panecore/palette"
)

// Whatever stands behind a flag is taken within its range or refused in one line.
func FuzzMendFlags(f *testing.F) {
	for _, text := range []string{"10", "0.1", "-1", "1e400", "NaN", "", "\n", "\xff", "2=rust", "0=rust", "2=Rest", "="} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		times, timesErr := parseTimes(text)
		if timesErr == nil && !(times > 0 && times <= mostTimes) {
			t.Errorf("%q: took %v times", text, times)
		}
		var slips mend
		nameErr := slips.addName(text)
		if nameErr == nil && (len(slips.names) != 1 || slips.names[0].number < 1 || slips.names[0].band == palette.NoBand) {
			t.Errorf("%q: took the name %v", text, slips.names)
		}
		for _, err := range []error{timesErr, nameErr} {
			if err != nil && (strings.ContainsAny(err.Error(), "\n\r") || !strings.HasPrefix(err.Error(), "found ")) {
				t.Errorf("%q: refused as %q", text, err)
			}
		}
	})
}
