package shell

import (
	"math"
	"strings"
	"testing"

	"panecore/layers"
)

// Whatever stands behind a flag is taken within its range or refused in one line.
func FuzzFlagValues(f *testing.F) {
	for _, text := range []string{"2000", "99", "1000001", "-1", "18446744073709551616", "7.4", "1e400", "NaN", "7,4", "always", "", "\n", "\xff", "a.SVG", "-", "600mm", "0mm", "25%", "0%"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		draws, drawsErr := parseDraws(text)
		if drawsErr == nil && (draws < minDraws || draws > maxDraws) {
			t.Errorf("%q: took %d draws", text, draws)
		}
		_, seedErr := parseSeed(text)
		number, numberErr := layers.ParseNumber(text)
		if numberErr == nil && (math.IsNaN(number) || math.IsInf(number, 0)) {
			t.Errorf("%q: took %v", text, number)
		}
		choice, colorErr := OneOf(colorAuto, colorAlways, colorNever)(text)
		if colorErr == nil && string(choice) != text {
			t.Errorf("%q: took colour %q", text, choice)
		}
		kind, kindErr := PictureKindOf(text)
		if kindErr == nil && text != "-" && !strings.HasSuffix(strings.ToLower(text), string(kind)) {
			t.Errorf("%q: took for a picture of kind %q", text, kind)
		}
		_, shareErr := layers.ParseShare(text)
		size, sizeErr := layers.ParseSize(text)
		if sizeErr == nil && !(size > 0 && !math.IsInf(size, 0)) {
			t.Errorf("%q: took a size of %v mm", text, size)
		}
		for _, err := range []error{drawsErr, seedErr, numberErr, colorErr, kindErr, shareErr, sizeErr} {
			if err != nil && (strings.ContainsAny(err.Error(), "\n\r") || !strings.HasPrefix(err.Error(), "found ")) {
				t.Errorf("%q: refused as %q", text, err)
			}
		}
	})
}
