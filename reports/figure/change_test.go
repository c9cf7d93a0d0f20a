package figure

import (
	"math"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
)

// changed are two strips of a record, and an invented change that is 8 mm high and begins 20 mm down.
func changed() reports.Change {
	record := testpictures.Siphoned()
	strips := testpictures.Strips(record)
	c := reports.Change{Strips: [2]reports.Strip{strips[0], strips[1]}, CellMM: 0.5, Width: 40, Least: 9, Share: 0.11, LightEV: -0.24}
	c.Difference = make([]float64, c.Width*int(strips[0].DepthMM/c.CellMM))
	for at := range c.Difference {
		switch depth := float64(at/c.Width) * c.CellMM; {
		case depth >= 20 && depth < 28 && at%c.Width > 8:
			c.Difference[at] = 9 + float64(at%c.Width)
		case depth > 70:
			c.Difference[at] = math.NaN()
		}
	}
	return c
}

// What changed is red where it is, to scale, and nothing else is.
func TestChange_whereItIs(t *testing.T) {
	c := changed()
	v := change{of: c}
	img := v.tinted()
	later := c.Strips[1]
	perMM := float64(img.Bounds().Dx()) / later.WidthMM
	for y := range img.Bounds().Dy() {
		depth := (float64(y)+0.5)/perMM - later.AboveMM
		for x := range img.Bounds().Dx() {
			r, g, _, _ := img.At(x, y).RGBA()
			cell := int((float64(x) + 0.5) / perMM / c.CellMM)
			if want := depth >= 20 && depth < 28 && cell > 8; (r != g) != want {
				t.Fatalf("%.2f mm down in cell %d: red is %t, want %t", depth, cell, r != g, want)
			}
		}
	}
}

// It says how much changed, what is left blank and what was taken off.
func TestChange_words(t *testing.T) {
	c := changed()
	f := Change(c, layers.MM)
	testpictures.Clear(t, f)
	for _, want := range []string{"11 % of what both photos show", "below about 9 (CIEDE2000)", "lightened by 0.24 stops"} {
		if !strings.Contains(f.Desc, want) {
			t.Errorf("%q has no %q", f.Desc, want)
		}
	}
	c.Share, c.LightEV, c.Strips[0].Carded = 0, 0, false
	for _, want := range []string{"No change stands out", "Without a grey card"} {
		if got := Change(c, layers.Inches).Desc; !strings.Contains(got, want) || strings.Contains(got, "stops") {
			t.Errorf("%q has no %q, or tells of light", got, want)
		}
	}
}
