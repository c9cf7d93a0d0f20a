package figure

import (
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
)

// All small pictures have one size, and a bed twice as deep is drawn twice as deep.
func TestSmall_oneScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		core := drawnCore(t)
		twice := core
		twice.Layers = nil
		for _, l := range core.Layers {
			l.TopMM, l.Thickness.Value = 2*l.TopMM, 2*l.Thickness.Value
			twice.Layers = append(twice.Layers, l)
		}
		list := Small(reports.Overview{Tanks: []reports.OverviewLine{{ID: "one", Cores: []reports.Core{core}}, {ID: "two", Cores: []reports.Core{twice}}, {ID: "none"}}}, layers.MM)
		var depths [3]float64
		for i, f := range list {
			testpictures.Clear(t, f)
			if f.Width != list[0].Width || f.Height != list[0].Height {
				t.Fatalf("%d: %v × %v mm, want that of the first", i, f.Width, f.Height)
			}
			for _, r := range testpictures.MarksOf(f).Rects {
				depths[i] += r.Foot - r.Top
			}
		}
		if off := depths[1] - 2*depths[0]; off < -1e-6 || off > 1e-6 || depths[2] != 0 {
			t.Errorf("drawn %v mm deep: want the second twice the first, the third not at all", depths)
		}
	})
}
