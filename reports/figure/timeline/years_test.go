package timeline

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
)

// Every strip is to the scale of its row, from its water to its foot, where its core stands; no strip reaches beyond its
// own width or its place.
func TestYears_toScale(t *testing.T) {
	for _, align := range []Align{AlignSurface, AlignFloor} {
		record := testpictures.Siphoned()
		strips := testpictures.Strips(record)
		l := newPicture(record, Options{Align: align, strips: strips})
		drawn := testpictures.MarksOf(l.Figure).Rasters
		if len(drawn) != len(strips) {
			t.Fatalf("%d strips are drawn, want %d", len(drawn), len(strips))
		}
		n := 0
		for i := range l.rows {
			r := &l.rows[i]
			for j, core := range r.Cores {
				strip := l.stripOf(core)
				if strip == nil {
					continue
				}
				got, seen := drawn[n], core.DepthMM()
				n++
				if math.Abs(got.Foot-got.Top-(strip.AboveMM+strip.DepthMM)*l.scale) > 1e-9 || math.Abs(got.Top-r.y(-strip.AboveMM, seen)) > 1e-9 {
					t.Errorf("%s %s: from %.2f to %.2f mm, want it to begin %.2f above its surface and to scale", core.Station, core.Date, got.Top, got.Foot, strip.AboveMM*l.scale)
				}
				if got.Left < r.slots[j].left-1e-9 || got.Right > r.slots[j].right+1e-9 || got.Right-got.Left > strip.WidthMM*l.scale+1e-9 {
					t.Errorf("%s %s: from %.2f to %.2f mm, want it within its place", core.Station, core.Date, got.Left, got.Right)
				}
			}
		}
	}
}

// The order in which strips come doesn't matter, and words keep clear of each other.
func TestYears_anyOrder(t *testing.T) {
	record := testpictures.Siphoned()
	strips := testpictures.Strips(record)
	var first, second bytes.Buffer
	f := Years(record, strips, Options{})
	testpictures.Clear(t, f)
	f.WriteSVG(&first)
	slices.Reverse(strips)
	Years(record, strips, Options{}).WriteSVG(&second)
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("the same strips in another order give another picture")
	}
}

// Five years of monthly strips are some hundred kilobytes; a station without strips is left out.
func TestYears_size(t *testing.T) {
	record := testpictures.TenYears()
	record.Stations = slices.Clone(record.Stations)
	for i := range record.Stations {
		cores := record.Stations[i].Cores
		record.Stations[i].Cores = cores[max(0, len(cores)-60):]
	}
	strips := slices.DeleteFunc(testpictures.Strips(record), func(s reports.Strip) bool { return s.Station != record.Stations[0].Station })
	f := Years(record, strips, Options{Units: layers.MM})
	var svg, png bytes.Buffer
	f.WriteSVG(&svg)
	f.WritePNG(&png, 8)
	if svg.Len() > 600<<10 || len(strips) < 50 {
		t.Errorf("%d strips take %d kB, want at most 600", len(strips), svg.Len()>>10)
	}
	t.Logf("%d strips: SVG %d kB, PNG %d kB", len(strips), svg.Len()>>10, png.Len()>>10)
}
