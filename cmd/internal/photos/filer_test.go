package photos

import (
	"strings"
	"testing"

	"panecore/layers/photo"
	"panecore/layers/photo/tagged"
)

// A photo with a part of a tag is told by that, not by what else it lacks, unless its ruler is sure.
func TestSighted_readable(t *testing.T) {
	mark := func(confidence float64) photo.Sighting { return photo.Sighting{Confidence: confidence} }
	part := sighted{miss: &tagged.Miss{Refusal: photo.Refusal{Reason: "a part of a tag is seen", Help: "photograph all of it"}, Part: true}}
	none := sighted{miss: &tagged.Miss{Refusal: photo.Refusal{Reason: "no tag"}}}
	for _, c := range []struct {
		name         string
		seen         sighted
		ruler, strip float64
		want         string // in the refusal; empty: none
	}{
		{"no tag, no ruler", none, 0, 0, "no ruler was found"},
		{"no tag, no strip", none, 0.9, 0, "no bed was found"},
		{"no tag, a doubtful ruler", none, 0.4, 0.9, ""},
		{"not looked for", sighted{}, 0.4, 0.9, ""},
		{"a part, no ruler", part, 0, 0, "a part of a tag"},
		{"a part, a doubtful ruler", part, 0.4, 0.9, "a part of a tag"},
		{"a part, a sure ruler", part, 0.9, 0.9, ""},
	} {
		err := c.seen.readable(&Shot{name: "front.jpg"}, &photo.Proposal{Ruler: mark(c.ruler), Strip: mark(c.strip)})
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: refused as %v", c.name, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), "front.jpg: "+c.want)):
			t.Errorf("%s: got %v, want it refused by %q", c.name, err, c.want)
		}
	}
}
