package figure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
	"panecore/reports/figure/pen"
)

// Cores beside each other are drawn to one scale from one line down, and their words stand
// clear, however many layers they have.
func TestBeside_oneScaleFromOneLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first, second := drawnCore(t), drawnCore(t)
		u := rapid.SampledFrom([]layers.Units{layers.MM, layers.Inches}).Draw(t, "units")
		f := Beside("two cores", []Named{{"front, read 2026-10-04", first}, {"as typed", second}}, u)
		testpictures.Clear(t, f)
		marks := testpictures.MarksOf(f)
		scale := 0.0
		for _, core := range []reports.Core{first, second} {
			for i, l := range core.Layers {
				r := marks.Rects[0]
				marks.Rects = marks.Rects[1:]
				drawn := (r.Foot - r.Top) / l.Thickness.Value
				if scale == 0 {
					scale = drawn
				}
				if math.Abs(drawn-scale) > 1e-6*scale || i == 0 && math.Abs(r.Top-(pen.UsualSize+pen.SmallSize+4)) > 1e-9 {
					t.Fatalf("layer %d is drawn at %v mm a mm from %v down, want %v", i, drawn, r.Top, scale)
				}
			}
		}
	})
}
