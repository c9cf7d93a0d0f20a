package records

import (
	"slices"
	"strings"
	"testing"

	"panecore/layers"
)

// Signs are taken once each, or refused in one line.
func FuzzParseSigns(f *testing.F) {
	for _, text := range []string{"", "none", "gas-bubbles", "gas-bubbles, egg-smell", "egg-smell egg-smell", "egg-smell none", ",,", "gas\nbubbles", "\xff"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		signs, err := parseSigns(text)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\r") || !strings.HasPrefix(err.Error(), "found ") || signs != nil {
				t.Errorf("%q: refused as %q", text, err)
			}
			return
		}
		for i, sign := range signs {
			if slices.Contains(signs[:i], sign) || !slices.Contains(layers.Signs(), sign) || !strings.Contains(strings.ToLower(text), string(sign)) {
				t.Errorf("%q: read as %q", text, signs)
			}
		}
	})
}
