package cli

import (
	"strings"
	"testing"
)

// Whatever stands behind a flag is taken within its range or refused in one line.
func FuzzFlagValues(f *testing.F) {
	for _, text := range []string{"2000", "99", "1000001", "-1", "18446744073709551616", "7.4", "1e400", "NaN", "7,4", "always", "", "\n", "\xff"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		draws, err := parseDraws(text)
		if err == nil && (draws < minDraws || draws > maxDraws) {
			t.Errorf("%q: took %d draws", text, draws)
		}
		_, seedErr := parseSeed(text)
		_, numberErr := parseNumber(text)
		choice, colorErr := parseColorChoice(text)
		if colorErr == nil && choice != colorAuto && string(choice) != text {
			t.Errorf("%q: took colour %q", text, choice)
		}
		for _, err := range []error{err, seedErr, numberErr, colorErr} {
			if err != nil && (strings.ContainsAny(err.Error(), "\n\r") || !strings.HasPrefix(err.Error(), "found ")) {
				t.Errorf("%q: refused as %q", text, err)
			}
		}
	})
}
