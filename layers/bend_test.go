package layers

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func drawBend(t *rapid.T) Bend {
	b := make(Bend, BendParts)
	for i := range b {
		if mm := rapid.Float64Range(-5, 5).Draw(t, "mm"); i == 0 || rapid.Bool().Draw(t, "counts") {
			b[i] = &mm
		}
	}
	return b
}

// A bend passes through the middles of the parts that count, and never leaves their range.
func TestBend_At(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBend(t)
		low, high := math.Inf(1), math.Inf(-1)
		for i, mm := range b {
			x := (float64(i) + 0.5) / BendParts
			if b.Bump(x) != (mm == nil) {
				t.Fatalf("part %d is a bump: %t", i, b.Bump(x))
			}
			if mm == nil {
				continue
			}
			low, high = min(low, *mm), max(high, *mm)
			if got := b.At(x); math.Abs(got-*mm) > 1e-9 {
				t.Fatalf("part %d is pulled by %g, want %g", i, got, *mm)
			}
		}
		x := rapid.Float64Range(0, 1).Draw(t, "x")
		if got := b.At(x); got < low-1e-9 || got > high+1e-9 {
			t.Fatalf("at %g pulled by %g, want %g to %g", x, got, low, high)
		}
	})
	if none := (Bend)(nil); none.At(0.5) != 0 || none.Bump(0.5) || none.Check() != nil {
		t.Error("no bend bends")
	}
}

// Edges that a keeper set come back with their bends, unless the core was amended by hand since.
func TestMarks_OwnEdges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var m Marks
		depth := 0.0
		for range rapid.IntRange(1, 5).Draw(t, "layers") {
			m.Edges = append(m.Edges, SetEdge{DepthMM: depth, Bend: drawBend(t), ShiftMM: rapid.Float64Range(-1, 1).Draw(t, "shift")})
			depth += rapid.Float64Range(3, 20).Draw(t, "thick")
		}
		text, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		back, err := DecodeMarks(text)
		if err != nil || !cmp.Equal(m, back) {
			t.Fatalf("kept otherwise: %v\n%s", err, cmp.Diff(m, back))
		}
		all := append(m.Edges[:len(m.Edges):len(m.Edges)], SetEdge{DepthMM: depth})
		var core Core
		for i, lower := range all[1:] {
			core.Layers = append(core.Layers, Layer{ThicknessMM: lower.DepthMM + lower.ShiftMM - all[i].DepthMM - all[i].ShiftMM, Edge: &Edge{}})
		}
		read := Core{Layers: []Layer{{ThicknessMM: depth}}}
		if got := back.OwnEdges(core, read); !cmp.Equal(all, got) {
			t.Fatalf("the edges are others:\n%s", cmp.Diff(all, got))
		}
		core.Layers[0].ThicknessMM += 1
		if got := back.OwnEdges(core, read); len(m.Edges) > 1 && len(got[1].Bend) > 0 {
			t.Fatalf("amended by hand, and still bent: %v", got)
		}
	})
}
