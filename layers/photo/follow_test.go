package photo

import (
	"math"
	"testing"

	"panecore/layers/photo/internal/testscene"
)

// later is a scene months after another at the same pane: the camera was held otherwise, the light is another, and so is the
// bed.
func later(s, other testscene.Scene, turn, larger, acrossMM, downMM float64) testscene.Scene {
	s.Seed, s.Layers, s.Stain, s.WaterMM = other.Seed, other.Layers, other.Stain, s.WaterMM-1.5
	s.RollDeg += turn
	s.PxPerMM *= larger
	s.Ruler.LeftMM, s.Ruler.TopMM = s.Ruler.LeftMM+acrossMM, s.Ruler.TopMM+downMM
	s.Card.LeftMM, s.Card.TopMM = s.Card.LeftMM+acrossMM, s.Card.TopMM+downMM
	s.Light.Tint, s.Light.Side, s.Light.LampX = other.Light.Tint, other.Light.Side, 1-s.Light.LampX
	return s
}

// plainly is a scene whose picks are exact.
func plainly(t *testing.T, name string) testscene.Scene {
	t.Helper()
	s := sceneNamed(t, name)
	s.Orientation, s.PickErrMM = 1, 0
	return s
}

// Ruler and card are found again where they are on a later photo of the same pane, or are told not to be.
func TestFollow_anotherBed(t *testing.T) {
	for _, c := range fewer(t,
		[]any{"easy-01", "middling-03", 1.2, 1.04, 2.0, -1.0},
		[]any{"middling-02", "easy-05", 0.4, 1.02, 0.5, 2.0},
	) {
		first := plainly(t, c[0].(string))
		last, now := first.Render(), later(first, sceneNamed(t, c[1].(string)), c[2].(float64), c[3].(float64), c[4].(float64), c[5].(float64)).Render()
		was, is := picksOf(last.Truth), picksOf(now.Truth)
		f := Follow(decodedFile(t, last.JPEG), was, decodedFile(t, now.JPEG))
		if f.Ruler.Doubtful() {
			t.Errorf("%v: the ruler was not found again: %s", c, f.Note)
			continue
		}
		px := float64(max(now.Truth.Width, now.Truth.Height)) / 1600
		for name, off := range map[string]float64{
			"upper end": math.Hypot(f.Picks.Ruler.X1-is.Ruler.X1, f.Picks.Ruler.Y1-is.Ruler.Y1),
			"lower end": math.Hypot(f.Picks.Ruler.X2-is.Ruler.X2, f.Picks.Ruler.Y2-is.Ruler.Y2),
		} {
			t.Logf("%v: %s %.1f px off: %s", c, name, off/px, f.Note)
			if off > 3*px {
				t.Errorf("%v: the ruler's %s is %.1f px off", c, name, off/px)
			}
		}
		if f.Picks.SurfaceY != nil {
			t.Errorf("%v: the bed surface was taken for that of the last photo", c)
		}
	}
}

// A photo of another pane, and a ruler that was moved on its pane, take no marks along.
func TestFollow_notTheSame(t *testing.T) {
	first := plainly(t, "easy-01")
	last := first.Render()
	other := photoOf(t, "easy-03")
	if f := Follow(decodedFile(t, last.JPEG), picksOf(last.Truth), decodedFile(t, other.JPEG)); f.Ruler.Confidence+f.Card.Confidence+f.Strip.Confidence > 0 {
		t.Errorf("another pane: took %+v along", f.Picks)
	}
	first.Ruler.LeftMM += 9
	first.Ruler.TopMM += 4
	moved := first.Render()
	f := Follow(decodedFile(t, last.JPEG), picksOf(last.Truth), decodedFile(t, moved.JPEG))
	if is := picksOf(moved.Truth).Ruler; f.Ruler.Confidence > 0 && math.Abs(f.Picks.Ruler.X1-is.X1) > 3 {
		t.Errorf("a ruler that was moved is told to be where it was: %+v, is %+v", f.Picks.Ruler, is)
	}
	if f.Picks.Strip.W == 0 {
		t.Errorf("the strip did not follow because the ruler was moved: %s", f.Note)
	}
}
