package figure

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
	"panecore/reports/figure/pen"
)

// thinCore is an invented core of many thin layers, one of them doubtful, one labelled,
// read from a photo.
func thinCore() reports.Core {
	core := reports.Core{Reliable: true, Station: "front", Date: 20000, Surface: &reports.Relief{HighestMM: -1.2, LowestMM: 1.6}, Signs: []layers.Sign{layers.GasBubbles}}
	thin := []struct {
		mm   float64
		band palette.Band
		c    palette.Color
	}{
		{9, palette.MulmLight, palette.Color{R: 0x8b, G: 0x69, B: 0x45}}, {0.8, palette.Rust, palette.Color{R: 0xa6, G: 0x62, B: 0x2f}},
		{1.2, palette.Native, palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}}, {0.6, palette.FilmGreen, palette.Color{R: 0x5a, G: 0x70, B: 0x3c}},
		{0.9, palette.MatWhite, palette.Color{R: 0xe8, G: 0xe6, B: 0xde}}, {2, palette.Grey, palette.Color{R: 0x71, G: 0x6b, B: 0x60}},
		{14, palette.Black, palette.Color{R: 0x3a, G: 0x39, B: 0x33}}, {1, palette.FilmDark, palette.Color{R: 0x2e, G: 0x22, B: 0x26}},
		{6, palette.MulmDark, palette.Color{R: 0x4e, G: 0x3c, B: 0x2a}}, {8, palette.Unknown, palette.Color{R: 0x8a, G: 0x5c, B: 0xa0}},
		{18, palette.Native, palette.Color{R: 0xd4, G: 0xc5, B: 0xa1}},
	}
	top := 0.0
	for i, l := range thin {
		layer := reports.Layer{
			TopMM: top, Thickness: reports.Estimate{Value: l.mm, Low: 0.8 * l.mm, High: 1.2 * l.mm}, Hex: l.c, Band: l.band, Probability: 0.93,
			Edge: &reports.Relief{HighestMM: top + l.mm - 0.9, LowestMM: top + l.mm + 1.4},
		}
		switch i {
		case 5:
			layer.Probability, layer.Alternatives = 0.56, []reports.Alternative{{Band: palette.Native, Probability: 0.4}}
		case 8:
			layer.Labelled = true
		}
		core.Layers = append(core.Layers, layer)
		top += l.mm
	}
	core.OxicDepth = &reports.Estimate{Value: 9.8, Low: 8.6, High: 13.5, Basis: reports.RustFront}
	return core
}

// drawnCore is any core that a logbook may hold, with what a photo adds or without.
func drawnCore(t *rapid.T) reports.Core {
	var core reports.Core
	core.Station = rapid.SampledFrom([]string{"front", "a station with a name as long as a name may be, and a bit", "<b>&\"'", ""}).Draw(t, "station")
	core.Date = layers.FirstDate + layers.Date(rapid.IntRange(0, 20000).Draw(t, "date"))
	photo := rapid.Bool().Draw(t, "photo")
	if photo {
		core.Surface = &reports.Relief{HighestMM: -rapid.Float64Range(0, 4).Draw(t, "crest"), LowestMM: rapid.Float64Range(0, 4).Draw(t, "trough")}
	}
	top := 0.0
	for range rapid.IntRange(0, 25).Draw(t, "layers") {
		mm := rapid.OneOf(rapid.Float64Range(0.1, 2), rapid.Float64Range(1, 80)).Draw(t, "mm")
		l := reports.Layer{
			TopMM: top, Thickness: reports.Estimate{Value: mm, Low: 0.9 * mm, High: 1.1 * mm},
			Hex:         palette.Color{R: uint8(rapid.IntRange(0, 255).Draw(t, "red")), G: 90, B: uint8(rapid.IntRange(0, 255).Draw(t, "blue"))},
			Band:        rapid.SampledFrom(palette.Bands()).Draw(t, "band"),
			Probability: 0.55, Alternatives: []reports.Alternative{{Band: palette.FilmGreen, Probability: 0.42}},
		}
		top += mm
		if photo {
			l.Edge = &reports.Relief{HighestMM: top - rapid.Float64Range(0, 3).Draw(t, "up"), LowestMM: top + rapid.Float64Range(0, 3).Draw(t, "down")}
		}
		core.Layers = append(core.Layers, l)
	}
	if len(core.Layers) > 0 && rapid.Bool().Draw(t, "oxic") {
		at := top * rapid.Float64Range(0, 1).Draw(t, "depth")
		core.OxicDepth = &reports.Estimate{Value: at, Low: 0.8 * at, High: 1.3 * at, Basis: reports.NotReached, AtLeast: rapid.Bool().Draw(t, "at least")}
	}
	return core
}

func drawnOptions(t *rapid.T) CoreOptions {
	o := CoreOptions{Tank: rapid.SampledFrom([]string{"", "Kettle", "A tank whose keeper gave it the longest name that a logbook takes, of 80 letters"}).Draw(t, "tank")}
	o.Units = rapid.SampledFrom([]layers.Units{layers.MM, layers.Inches}).Draw(t, "units")
	if rapid.Bool().Draw(t, "penetration") {
		o.Penetration = &reports.Estimate{Value: rapid.Float64Range(0, 20).Draw(t, "ends"), High: 30, Basis: reports.Model}
	}
	return o
}

// However thin the layers, words stand clear of each other and within the picture.
func TestCore_wordsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { testpictures.Clear(t, Core(drawnCore(t), drawnOptions(t))) })
}

// Each layer is as thick as it was read, times the scale that the picture tells, and lies
// at its depth below the bed surface.
func TestCore_toScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		core := drawnCore(t)
		core.Surface = nil
		for i := range core.Layers {
			core.Layers[i].Edge = nil
		}
		var found []testpictures.Rect
		f := Core(core, CoreOptions{})
		for _, r := range testpictures.MarksOf(f).Rects {
			if r.Ink.Role == "" {
				found = append(found, r)
			}
		}
		if len(found) != len(core.Layers) {
			t.Fatalf("%d layers drawn, want %d", len(found), len(core.Layers))
		}
		for i, r := range found {
			l := core.Layers[i]
			scale := scaleOf(core.Layers[len(core.Layers)-1].BottomMM())
			if got, want := r.Foot-r.Top, l.Thickness.Value*scale; math.Abs(got-want) > 1e-9 {
				t.Errorf("layer %d is %v mm thick, want %v", i, got, want)
			}
			if got, want := r.Top-found[0].Top, l.TopMM*scale; math.Abs(got-want) > 1e-9 {
				t.Errorf("layer %d lies at %v mm, want %v", i, got, want)
			}
		}
	})
}

// In a deep bed, drawn small, more than half of a rust front of 3 mm is seen above the line
// at its foot.
func TestCore_rustSeen(t *testing.T) {
	core := reports.Core{Reliable: true, Station: "front", Date: 20000, OxicDepth: &reports.Estimate{Value: 15, Low: 14, High: 16}, Layers: []reports.Layer{
		{Thickness: reports.Estimate{Value: 12}, Band: palette.MulmLight, Hex: palette.Color{R: 0x8b, G: 0x5e, B: 0x3c}},
		{TopMM: 12, Thickness: reports.Estimate{Value: 3}, Band: palette.Rust, Hex: palette.Color{R: 0xa6, G: 0x62, B: 0x2f}},
		{TopMM: 15, Thickness: reports.Estimate{Value: 585}, Band: palette.Native, Hex: palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}},
	}}
	w := testpictures.MarksOf(Core(core, CoreOptions{}))
	rust, over := w.Rects[2].Box, 0
	for _, l := range w.Lines {
		if l.Ink.Role == pen.InkPaper.Role {
			over++
			if seen := l.Points[0].Y - l.Width/2 - rust.Top; seen < (rust.Foot-rust.Top)/2 {
				t.Errorf("%v mm of %v mm of rust are seen", seen, rust.Foot-rust.Top)
			}
		}
	}
	if over != 1 {
		t.Errorf("%d lines on a ground of their own, want 1", over)
	}
}

// A layer of 12 mm is 12 mm in the file where it is life-size.
func TestCore_lifeSize(t *testing.T) {
	core := reports.Core{Reliable: true, Station: "front", Date: 20000, Layers: []reports.Layer{
		{Thickness: reports.Estimate{Value: 12}, Band: palette.MulmLight, Hex: palette.Color{R: 0x8b, G: 0x5e, B: 0x3c}},
		{TopMM: 12, Thickness: reports.Estimate{Value: 60}, Band: palette.Native, Hex: palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}},
	}}
	var svg bytes.Buffer
	if err := Core(core, CoreOptions{}).WriteSVG(&svg); err != nil {
		t.Fatal(err)
	}
	var file struct {
		Width   string `xml:"width,attr"`
		Height  string `xml:"height,attr"`
		ViewBox string `xml:"viewBox,attr"`
		Groups  []struct {
			Rects []struct {
				Height float64 `xml:"height,attr"`
				Fill   string  `xml:"fill,attr"`
			} `xml:"rect"`
		} `xml:"g"`
	}
	if err := xml.Unmarshal(svg.Bytes(), &file); err != nil {
		t.Fatal(err)
	}
	var width, height float64
	if _, err := fmt.Sscanf(file.ViewBox, "0 0 %f %f", &width, &height); err != nil {
		t.Fatal(err)
	}
	if file.Width != fmt.Sprintf("%gmm", width) || file.Height != fmt.Sprintf("%gmm", height) {
		t.Errorf("%s x %s for a view of %s: its units are no millimetres", file.Width, file.Height, file.ViewBox)
	}
	if r := file.Groups[0].Rects[0]; r.Height != 12 || r.Fill != "#8b5e3c" {
		t.Errorf("the first layer is %v, want 12 mm of #8b5e3c", r)
	}
}

func BenchmarkCore_svg(b *testing.B) {
	core := thinCore()
	for b.Loop() {
		if err := Core(core, CoreOptions{Tank: "Kettle"}).WriteSVG(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
