package photo

import (
	"math"
	"testing"
)

// A column whose own surface lies elsewhere, before a leaf, speaks for the line too if its surface might lie on it; but not
// against another line that as many columns show.
func TestPane_across(t *testing.T) {
	n := &pane{grid: &grid{pitch: 0.5, cols: 400}}
	columns := func(count int, row func(i int) float64, others ...float64) (list []shoreIn) {
		for i := range count {
			list = append(list, shoreIn{shore: shore{row: row(i), sharp: true, by: 1}, column: 10 * float64(i), counts: 1, others: others})
		}
		return list
	}
	const surface = 100.0
	on := func(i int) float64 { return surface + float64(i%3) }
	leaves := func(i int) float64 { return 20 + 30*float64(i*i%5) } // on no line
	edge := func(int) float64 { return 160 }
	for _, c := range []struct {
		name        string
		shores      []shoreIn
		share, sure float64
	}{
		{"none", nil, 0, 0},
		{"two columns are no line", columns(2, on), 0, 0},
		{"all", columns(10, on), 1, 1},
		{"leaves, which hide it", append(columns(6, on), columns(4, leaves)...), 0.6, 0.6},
		{"leaves above it", append(columns(6, on), columns(4, leaves, surface)...), 0.6, 1},
		{"an edge below", append(columns(6, on), columns(4, edge)...), 0.6, 0.6},
		{"an edge below that might be it", append(columns(6, on), columns(4, edge, surface)...), 0.6, 0.6},
	} {
		h := n.across(c.shores)
		if math.Abs(h.share-c.share) > 1e-9 || math.Abs(h.sure-c.sure) > 1e-9 {
			t.Errorf("%s: share %.2f, sure %.2f, want %.2f and %.2f", c.name, h.share, h.sure, c.share, c.sure)
		}
		if h.sharp != (c.share > 0) {
			t.Errorf("%s: sharp %t, want it where there is a line", c.name, h.sharp)
		}
		if c.share > 0 && math.Abs(h.at(50)-surface) > 4 {
			t.Errorf("%s: the line is at row %.0f, want %.0f", c.name, h.at(50), surface)
		}
	}
}

// Columns of which none is surely sharper than the water show together that all are, or that colour alone makes the line.
func TestPane_acrossDull(t *testing.T) {
	n := &pane{grid: &grid{pitch: 0.5, cols: 400}}
	for _, c := range []struct {
		by   float64
		want bool
	}{{0.4, true}, {0.25, true}, {0.1, false}, {-0.3, false}} {
		var shores []shoreIn
		for i := range 10 {
			noise := 0.3 * float64(i%3-1)
			shores = append(shores, shoreIn{shore: shore{row: 100, by: c.by + noise}, column: 10 * float64(i), counts: dullShare})
		}
		if h := n.across(shores); h.sharp != c.want || math.Abs(h.share-1) > 1e-9 {
			t.Errorf("sharper by %g: sharp %t, share %.2f, want %t and 1", c.by, h.sharp, h.share, c.want)
		}
	}
}
