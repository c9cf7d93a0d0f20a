package photo

import (
	"math"
	"testing"

	"panecore/layers/photo/picture"
)

// Ruler, card and bed surface are found by themselves in drawn photos, and a strip between them that reaches the bed's
// foot: the scale to 1.2 % of a ruler marked by hand, the surface to 3 mm.
func TestPropose_drawn(t *testing.T) {
	for _, name := range fewer(t, "easy-01", "easy-09", "middling-03", "hard-04") {
		shot := photoOf(t, name)
		truth := shot.Truth
		p, err := picture.Decode(shot.JPEG)
		if err != nil {
			t.Fatal(err)
		}
		b := Propose(p, Picks{})
		frame, err := newFrame(b.Picks.Ruler)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if off := frame.pxPerMM/truth.PxPerMM - 1; math.Abs(off) > .012 {
			t.Errorf("%s: the scale is off by %.1f %%", name, 100*off)
		}
		if len(b.Picks.Neutral) != 1 || overlap(b.Picks.Neutral[0].Box, picksOf(truth).Neutral[0].Box) < .4 {
			t.Errorf("%s: the card is found at %v, want %v", name, b.Picks.Neutral, picksOf(truth).Neutral)
		}
		if b.Picks.SurfaceY == nil || math.Abs(*b.Picks.SurfaceY-truth.TrueSurfaceY)/truth.PxPerMM > 3 {
			t.Errorf("%s: the surface is found at %v, want row %.0f", name, b.Picks.SurfaceY, truth.TrueSurfaceY)
		}
		s, want := b.Picks.Strip, picksOf(truth).Strip
		if foot := (s.Y + s.H - want.Y - want.H) / truth.PxPerMM; s.W < stripLeast*truth.PxPerMM || math.Abs(foot) > 4 {
			t.Errorf("%s: the strip is %v, want one that ends as %v does", name, s, want)
		}
		for _, m := range []Sighting{b.Ruler, b.Card, b.Surface, b.Strip} {
			if m.Given || m.Note == "" || !(m.Confidence > 0 && m.Confidence <= mostSure) {
				t.Errorf("%s: found as %+v", name, m)
			}
		}
	}
}

// overlap is what two boxes have in common, as a share of both.
func overlap(a, b Box) float64 {
	w := min(a.X+a.W, b.X+b.W) - max(a.X, b.X)
	h := min(a.Y+a.H, b.Y+b.H) - max(a.Y, b.Y)
	both := max(0, w) * max(0, h)
	return both / (a.W*a.H + b.W*b.H - both)
}

// Marks that were given stay as they are.
func TestPropose_givenStay(t *testing.T) {
	shot := photoOf(t, "easy-05")
	p, err := picture.Decode(shot.JPEG)
	if err != nil {
		t.Fatal(err)
	}
	given := picksOf(shot.Truth)
	given.Neutral = []Card{}
	surface := shot.Truth.TrueSurfaceY
	given.SurfaceY = &surface
	b := Propose(p, given)
	if b.Picks.Ruler != given.Ruler || b.Picks.Strip != given.Strip || *b.Picks.SurfaceY != surface || len(b.Picks.Neutral) != 0 {
		t.Errorf("given %+v, proposed %+v", given, b.Picks)
	}
	for _, m := range []Sighting{b.Ruler, b.Card, b.Surface, b.Strip} {
		if !m.Given || m.Confidence != 1 {
			t.Errorf("a given mark is told as %+v", m)
		}
	}
}
