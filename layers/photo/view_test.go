package photo

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panecore/palette"
)

func lookAt(t *testing.T, name string) *View {
	t.Helper()
	shot := photoOf(t, name)
	v, err := Look(decodedFile(t, shot.JPEG), picksOf(shot.Truth), matcherFor(shot.Truth.NativeTyped))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// cutsOf are a reading's own layers as cuts.
func cutsOf(r *Reading) []Cut {
	var cuts []Cut
	depth := 0.0
	for _, l := range r.Core.Layers {
		depth += l.ThicknessMM
		cuts = append(cuts, Cut{BottomMM: depth})
	}
	return cuts
}

// A view cut where it was read is read the same, but that edges beside joined layers are
// weighed by the look of the whole.
func TestRecut_asRead(t *testing.T) {
	v := lookAt(t, "middling-02")
	got, err := v.Recut(Cut{}, cutsOf(v.Reading))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(v.Reading, got, closely, nearly); diff != "" {
		t.Errorf("cut as it was read (-read +cut):\n%s", diff)
	}
}

var closely = cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 0.01 })

// nearly lets a colour's channels round either way.
var nearly = cmp.Comparer(func(a, b palette.Color) bool { return palette.Difference(a.Lab(), b.Lab()) < 1 })

// What a keeper says of edges and names is kept to, and what is not touched stays.
func TestRecut_asTold(t *testing.T) {
	v := lookAt(t, "easy-03")
	was := v.Reading.Core.Layers
	cuts := cutsOf(v.Reading)
	cuts[0].BottomMM += 2
	cuts[1].Band = palette.Grey
	last := len(cuts) - 1
	middle := (cuts[last-1].BottomMM + cuts[last].BottomMM) / 2
	cuts = slices.Insert(cuts, last, Cut{BottomMM: middle})
	got, err := v.Recut(Cut{BottomMM: -1}, cuts)
	if err != nil {
		t.Fatal(err)
	}
	now := got.Core.Layers
	for k, moved := range got.Moved {
		if want := k == 0 || k == 1 || k == last+1; moved != want { // the surface, the first edge and the new one
			t.Errorf("edge %d is told as moved: %v, want %v", k, moved, want)
		}
	}
	if len(now) != len(was)+1 {
		t.Fatalf("%d layers, want %d", len(now), len(was)+1)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"first layer", now[0].ThicknessMM, was[0].ThicknessMM + 3}, // the surface 1 mm higher, the edge 2 mm lower
		{"second layer", now[1].ThicknessMM, was[1].ThicknessMM - 2},
		{"halves of the last", now[last].ThicknessMM, now[last+1].ThicknessMM},
		{"the whole", got.Core.DepthMM(), v.Reading.Core.DepthMM() + 1},
	} {
		if math.Abs(c.got-c.want) > 1e-6 {
			t.Errorf("%s: %.3f mm, want %.3f", c.what, c.got, c.want)
		}
	}
	if got.Names[1] != palette.Grey || now[1].Band != palette.Grey {
		t.Errorf("the second layer is %v, told as %v: want grey", got.Names[1], now[1].Band)
	}
	if d := palette.Difference(now[2].Color.Lab(), was[2].Color.Lab()); last > 2 && d > 3 {
		t.Errorf("an untouched layer changed its colour by %.1f", d)
	}
	if again, err := v.Recut(Cut{}, cutsOf(v.Reading)); err != nil || !cmp.Equal(again, v.Reading, closely) {
		t.Errorf("the view was changed by use: %v", err)
	}
}

func TestRecut_refuses(t *testing.T) {
	v := lookAt(t, "easy-03")
	for name, c := range map[string]struct {
		surface float64
		cuts    []Cut
	}{
		"nothing":         {0, nil},
		"crossed edges":   {0, []Cut{{BottomMM: 20}, {BottomMM: 10}, {BottomMM: 40}}},
		"no thickness":    {0, []Cut{{BottomMM: 0.1}, {BottomMM: 40}}},
		"out of the view": {0, []Cut{{BottomMM: 5000}, {BottomMM: 6000}}},
		"not a number":    {0, []Cut{{BottomMM: math.NaN()}, {BottomMM: 40}}},
		"surface below":   {30, []Cut{{BottomMM: 20}, {BottomMM: 40}}},
	} {
		if _, err := v.Recut(Cut{BottomMM: c.surface}, c.cuts); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
