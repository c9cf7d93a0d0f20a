package layers

import (
	"fmt"
	"math"
	"slices"
)

// BendParts is how many parts of equal width an edge is bent by (assumption: of a usual strip, one is half as wide as a
// snail).
const BendParts = 8

// Bend is by how much the parts of an edge, from left to right across the strip, are pulled down from where it was traced,
// mm. A part that is nil is a bump: something lies there, and the edge's depth is that of the rest. An empty bend is none.
type Bend []*float64

// mostPull is by how much a part may be pulled, mm (assumption: deeper than any bed).
const mostPull = 1000.0

// Check refuses a bend of another number of parts, with a part pulled too far, or of bumps alone.
func (b Bend) Check() error {
	if len(b) == 0 {
		return nil
	}
	if len(b) != BendParts {
		return fmt.Errorf("found an edge that is bent in %d parts, want %d", len(b), BendParts)
	}
	counts := false
	for _, mm := range b {
		if mm == nil {
			continue
		}
		if counts = true; !(math.Abs(*mm) <= mostPull) {
			return fmt.Errorf("found a part of an edge pulled by %g mm, want at most %g", *mm, mostPull)
		}
	}
	if !counts {
		return fmt.Errorf("found an edge with all its parts left out, want one that counts")
	}
	return nil
}

// Bump reports whether a place across the strip, from 0 at its left to 1, is in a part that is left out.
func (b Bend) Bump(x float64) bool {
	return len(b) > 0 && b[min(max(0, int(x*float64(len(b)))), len(b)-1)] == nil
}

// At is the pull at a place across the strip, from 0 at its left to 1, mm: straight between the middles of the parts that
// count, and beyond them as in the last one.
func (b Bend) At(x float64) float64 {
	place := x*float64(len(b)) - 0.5
	before, after := -1, -1
	for i, mm := range b {
		switch {
		case mm == nil:
		case float64(i) <= place:
			before = i
		case after < 0:
			after = i
		}
	}
	switch {
	case before < 0 && after < 0:
		return 0
	case before < 0:
		return *b[after]
	case after < 0:
		return *b[before]
	}
	share := (place - float64(before)) / float64(after-before)
	return *b[before] + share*(*b[after]-*b[before])
}

// SetEdge is an edge where a keeper has set and bent it.
type SetEdge struct {
	DepthMM float64 `json:"depth_mm"`           // without its bend, below the bed surface that the program reads
	Bend    Bend    `json:"bend,omitempty"`     // empty: none
	ShiftMM float64 `json:"shift_mm,omitempty"` // by which its bend makes it deeper
}

// sameEdge is how far an edge may be off and still be the one that was read, mm: the limit of package photo.
const sameEdge = 0.01

// OwnEdges compares a saved core with what a reading of its photo by the same marks shows: the saved bed surface and lower
// edges of the layers, below the surface that is read, with their bends; none if the keeper has changed no edge and no name.
// Both end at the strip's foot unless the lowest layer of the saved one was amended by hand.
func (m Marks) OwnEdges(saved, read Core) []SetEdge {
	same := func(a, b Layer) bool { return math.Abs(a.ThicknessMM-b.ThicknessMM) < sameEdge && a.Band == b.Band }
	switch {
	case len(saved.Layers) == 0 || len(m.Edges) == 0 && slices.EqualFunc(read.Layers, saved.Layers, same):
		return nil
	case m.bends(saved):
		return append(slices.Clone(m.Edges), SetEdge{DepthMM: read.DepthMM()})
	}
	surface := 0.0
	foot := saved.Layers[len(saved.Layers)-1]
	if off := read.DepthMM() - saved.DepthMM(); foot.Edge != nil && math.Abs(off) >= sameEdge {
		surface = off
	}
	edges := []SetEdge{{DepthMM: surface}}
	for i, l := range saved.Layers {
		edges = append(edges, SetEdge{DepthMM: edges[i].DepthMM + l.ThicknessMM})
	}
	return edges
}

// bends reports whether the marked edges are those of a core, which may have been amended by hand since.
func (m Marks) bends(core Core) bool {
	if len(m.Edges) != len(core.Layers) {
		return false
	}
	for i := range m.Edges[1:] {
		upper, lower := m.Edges[i], m.Edges[i+1]
		thick := lower.DepthMM + lower.ShiftMM - upper.DepthMM - upper.ShiftMM
		if lower.Bend.Check() != nil || math.Abs(thick-core.Layers[i].ThicknessMM) >= sameEdge {
			return false
		}
	}
	return m.Edges[0].Bend.Check() == nil
}
