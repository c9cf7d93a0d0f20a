package forms

import (
	"testing"

	"panecore/layers"
)

// FuzzParseAnswer: whatever a button is made to send, it mends no core into another number of
// layers and never panics.
func FuzzParseAnswer(f *testing.F) {
	for _, text := range []string{"", "none", "depths", "tenfold:2", "tenth", "name:1:rust", "name:-1:rust", "tenfold:99", "removal", "a:b:c", "turned-over:0"} {
		f.Add(text)
	}
	list := []layers.Layer{{ThicknessMM: 12}, {ThicknessMM: 30}, {ThicknessMM: 80}}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := parseAnswer(text)
		if err != nil {
			return
		}
		if mended, err := m.Mended(list); err == nil && len(mended) != len(list) {
			t.Errorf("%q makes %d layers of %d", text, len(mended), len(list))
		}
	})
}
