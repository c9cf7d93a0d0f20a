package photo

import (
	"math"
	"testing"
)

// What is painted out is masked and tells nothing, and a little of it leaves the edges where they are.
func TestRead_paintedOut(t *testing.T) {
	photo := photoOf(t, "easy-01")
	p, picks, matcher := decodedFile(t, photo.JPEG), picksOf(photo.Truth), matcherFor(photo.Truth.NativeTyped)
	plain, err := Read(p, picks, matcher)
	if err != nil {
		t.Fatal(err)
	}
	s := picks.Strip
	picks.Hidden = []Disc{{s.X + s.W/2, s.Y + s.H/2, s.W / 8}}
	painted, err := Read(p, picks, matcher)
	if err != nil {
		t.Fatal(err)
	}
	if grown := painted.GlareShare - plain.GlareShare; grown < 0.02 || grown > 0.2 {
		t.Errorf("%.3f of the bed is masked for a disc, want about its part of the strip", grown)
	}
	if len(painted.Core.Layers) != len(plain.Core.Layers) {
		t.Fatalf("%d layers, want the %d of before", len(painted.Core.Layers), len(plain.Core.Layers))
	}
	for i, l := range painted.Core.Layers {
		if off := math.Abs(l.ThicknessMM - plain.Core.Layers[i].ThicknessMM); off > 0.5 {
			t.Errorf("layer %d is %.2f mm thicker or thinner", i+1, off)
		}
	}
	for _, wrong := range []Disc{{-1, 0, 5}, {5, 5, 0}, {5, 5, math.NaN()}, {1e6, 5, 5}} {
		picks.Hidden = []Disc{wrong}
		if _, err := Read(p, picks, matcher); err == nil {
			t.Errorf("read with %+v left out", wrong)
		}
	}
}
