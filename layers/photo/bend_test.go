package photo

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"panecore/layers"
)

// evenly is a bend of all parts alike.
func evenly(mm float64) layers.Bend {
	b := make(layers.Bend, layers.BendParts)
	for i := range b {
		b[i] = &mm
	}
	return b
}

// drawnBend is a bend with bumps, of which at least one part counts; half of them are none.
func drawnBend(t *rapid.T) layers.Bend {
	if rapid.Bool().Draw(t, "straight") {
		return nil
	}
	b := make(layers.Bend, layers.BendParts)
	for i := range b {
		if mm := rapid.Float64Range(-6, 6).Draw(t, "mm"); rapid.IntRange(0, 3).Draw(t, "bump") > 0 {
			b[i] = &mm
		}
	}
	if b.Check() != nil {
		b[0] = new(float64)
	}
	return b
}

// However edges are bent, none crosses another, those without a bend stay, and without bumps a layer becomes thicker by as
// much as its edges lie farther apart over the strip's width.
func TestStrata_bend(t *testing.T) {
	v := lookAt(t, "easy-03")
	was := v.strata
	rapid.Check(t, func(t *rapid.T) {
		bends := make([]layers.Bend, len(was.level))
		for k := range bends {
			bends[k] = drawnBend(t)
		}
		before, now := was.warpTo(was.level), *was
		now.warp = was.warpTo(slices.Clone(was.level))
		if err := now.bend(bends); err != nil {
			t.Fatal(err)
		}
		for k, b := range bends {
			apart, bumps := 0.0, slices.Contains(b, nil)
			for block := range now.at {
				apart += (now.at[block][k] - before.at[block][k]) / float64(len(now.at))
				if now.at[block][k] < now.edge(k-1, block) || now.at[block][k] > now.edge(k+1, block) {
					t.Fatalf("edge %d crosses another at block %d", k, block)
				}
			}
			if deeper := now.level[k] - was.level[k]; !bumps && math.Abs(deeper-apart) > 1e-9 {
				t.Fatalf("edge %d is %g rows deeper, want %g", k, deeper, apart)
			}
			if b == nil && apart != 0 {
				t.Fatalf("edge %d is not bent and moved by %g rows", k, apart)
			}
		}
	})
}

// An edge that is bent all over is one that was moved; one that is bent by nothing is as it was; and a bump moves no other
// edge.
func TestRecut_bent(t *testing.T) {
	v := lookAt(t, "easy-03")
	for _, mm := range []float64{-2, 0, 2.5} {
		moved, bent := cutsOf(v.Reading), cutsOf(v.Reading)
		moved[0].BottomMM += mm
		bent[0].Bend = evenly(mm)
		want, err := v.Recut(Cut{BottomMM: mm}, moved)
		if err != nil {
			t.Fatal(err)
		}
		got, err := v.Recut(Cut{Bend: evenly(mm)}, bent)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(thicknesses(want), thicknesses(got), closely); diff != "" {
			t.Errorf("bent by %g mm all over (-moved +bent):\n%s", mm, diff)
		}
	}
	cuts := cutsOf(v.Reading)
	cuts[0].Bend = evenly(0)
	cuts[0].Bend[2], cuts[0].Bend[3] = nil, nil
	r, err := v.Recut(Cut{}, cuts)
	if err != nil {
		t.Fatal(err)
	}
	was, now := thicknesses(v.Reading), thicknesses(r)
	if top := r.Set[0].ShiftMM; math.Abs(r.Core.DepthMM()+top-v.Reading.Core.DepthMM()) > 0.01 {
		t.Errorf("the layers are %.2f mm together, want %.2f", r.Core.DepthMM(), v.Reading.Core.DepthMM())
	}
	if was[0] == now[0] || !cmp.Equal(was[2:], now[2:], closely) || math.Abs(was[0]+was[1]-now[0]-now[1]) > 0.01 {
		t.Errorf("with a bump the layers are %.2f mm, without %.2f", now, was)
	}
}

func thicknesses(r *Reading) (list []float64) {
	for _, l := range r.Core.Layers {
		list = append(list, l.ThicknessMM)
	}
	return list
}

// A part that is pulled lies where it was pulled to, and the far parts stay.
func TestRecut_pulled(t *testing.T) {
	v := lookAt(t, "easy-03")
	cuts := cutsOf(v.Reading)
	cuts[0].Bend = evenly(0)
	pull := 2.0
	cuts[0].Bend[0] = &pull
	r, err := v.Recut(Cut{}, cuts)
	if err != nil {
		t.Fatal(err)
	}
	was, now := v.Reading.Edges[1], r.Edges[1]
	if d := (now[0].Y - was[0].Y) / r.PxPerMM; math.Abs(d-pull) > 0.05 {
		t.Errorf("its left end lies %g mm deeper, want %g", d, pull)
	}
	for b := len(now) / 4; b < len(now); b++ {
		if math.Abs(now[b].Y-was[b].Y) > 0.01 {
			t.Errorf("block %d of %d moved by %g px", b, len(now), now[b].Y-was[b].Y)
		}
	}
	if got, want := r.Core.Layers[0].ThicknessMM-v.Reading.Core.Layers[0].ThicknessMM, pull/layers.BendParts; math.Abs(got-want) > 0.05 {
		t.Errorf("the layer above is %g mm thicker, want %g", got, want)
	}
	if !r.Moved[1] || r.Moved[2] {
		t.Errorf("told as set by hand: %v", r.Moved)
	}
}

func TestRecut_refusesBends(t *testing.T) {
	v := lookAt(t, "easy-03")
	inf := math.Inf(1)
	for name, b := range map[string]layers.Bend{
		"too few parts": {new(float64)}, "bumps alone": make(layers.Bend, layers.BendParts), "no number": evenly(inf), "no layer left": evenly(-900),
	} {
		cuts := cutsOf(v.Reading)
		cuts[0].Bend = b
		if _, err := v.Recut(Cut{}, cuts); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
