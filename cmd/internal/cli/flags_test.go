package cli

import (
	"math"
	"strings"
	"testing"

	"panecore/palette"
)

// Whatever stands behind a flag is taken within its range or refused in one line.
func FuzzFlagValues(f *testing.F) {
	for _, text := range []string{"2000", "99", "1000001", "-1", "18446744073709551616", "7.4", "1e400", "NaN", "7,4", "always", "", "\n", "\xff", "25%", "0%", "08:00", "24:00", "a.SVG", "-", "2=rust", "0=rust", "2=Rest", "=", "0.1"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		draws, err := parseDraws(text)
		if err == nil && (draws < minDraws || draws > maxDraws) {
			t.Errorf("%q: took %d draws", text, draws)
		}
		_, seedErr := parseSeed(text)
		number, numberErr := parseNumber(text)
		if numberErr == nil && (math.IsNaN(number) || math.IsInf(number, 0)) {
			t.Errorf("%q: took %v", text, number)
		}
		choice, colorErr := parseColorChoice(text)
		if colorErr == nil && choice != colorAuto && string(choice) != text {
			t.Errorf("%q: took colour %q", text, choice)
		}
		share, shareErr := parseFloorShare(text)
		if shareErr == nil && !(share > 0 && share <= 1) {
			t.Errorf("%q: took the share %v", text, share)
		}
		hour, hourErr := parseHour(text)
		if hourErr == nil && !(hour >= 0 && hour < 24) {
			t.Errorf("%q: took the hour %v", text, hour)
		}
		light, lightErr := within(0, 24, "hours")(text)
		if lightErr == nil && !(light >= 0 && light <= 24) {
			t.Errorf("%q: took %v hours", text, light)
		}
		times, timesErr := parseTimes(text)
		if timesErr == nil && !(times > 0 && times <= mostTimes) {
			t.Errorf("%q: took %v times", text, times)
		}
		var slips mend
		nameErr := slips.addName(text)
		if nameErr == nil && (len(slips.names) != 1 || slips.names[0].number < 1 || slips.names[0].band == palette.NoBand) {
			t.Errorf("%q: took the name %v", text, slips.names)
		}
		_, methodErr := parseMethod(text)
		kind, kindErr := pictureKindOf(text)
		if kindErr == nil && text != "-" && !strings.HasSuffix(strings.ToLower(text), string(kind)) {
			t.Errorf("%q: took for a picture of kind %q", text, kind)
		}
		for _, err := range []error{err, seedErr, numberErr, colorErr, shareErr, hourErr, lightErr, timesErr, nameErr, methodErr, kindErr} {
			if err != nil && (strings.ContainsAny(err.Error(), "\n\r") || !strings.HasPrefix(err.Error(), "found ")) {
				t.Errorf("%q: refused as %q", text, err)
			}
		}
	})
}
