package cli

import (
	"strings"
	"testing"

	"panecore/cmd/internal/shell"
	"panecore/reports"
)

// Whatever stands behind a flag is taken within its range or refused in one line.
func FuzzPhysicsFlags(f *testing.F) {
	for _, text := range []string{"7.4", "1e400", "NaN", "7,4", "", "\n", "\xff", "25%", "0%", "100%", "08:00", "24:00", "stir", "900m", "-3000ft"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
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
		_, methodErr := shell.OneOf(reports.MethodStir, reports.MethodSiphon)(text)
		metres, altitudeErr := parseAltitude(text)
		if altitudeErr == nil && !(metres >= -400 && metres <= 5000) {
			t.Errorf("%q: took an altitude of %v m", text, metres)
		}
		for _, err := range []error{shareErr, hourErr, lightErr, methodErr, altitudeErr} {
			if err != nil && (strings.ContainsAny(err.Error(), "\n\r") || !strings.HasPrefix(err.Error(), "found ")) {
				t.Errorf("%q: refused as %q", text, err)
			}
		}
	})
}
