package figure

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"testing"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
	"panecore/reports/figure/pen"
	"panecore/reports/figure/timeline"
	"panecore/reports/internal/testlikeness"
)

var update = flag.Bool("update", false, "rewrite the stored pictures")

// goldens are pictures of every kind, of invented findings.
var goldens = []struct {
	name string
	draw func() *pen.Figure
}{
	{"core", func() *pen.Figure {
		return Core(thinCore(), CoreOptions{Tank: "Weir", Penetration: &reports.Estimate{Value: 1.2, Low: 0.4, High: 3, Basis: reports.Model}})
	}},
	{"core_inches", func() *pen.Figure { return Core(thinCore(), CoreOptions{Units: layers.Inches}) }},
	{"oxygen", func() *pen.Figure { return Oxygen(shortOfOxygen(), layers.MM) }},
	{"oxygen_inches", func() *pen.Figure { return Oxygen(shortOfOxygen(), layers.Inches) }},
	{"rehearsal", func() *pen.Figure { return Rehearsal(rehearsedStir(), layers.MM) }},
	{"rehearsal_inches", func() *pen.Figure { return Rehearsal(rehearsedStir(), layers.Inches) }},
	{"timeline", func() *pen.Figure { return timeline.Figure(testpictures.Siphoned(), timeline.Options{}) }},
	{"timeline_floor", func() *pen.Figure {
		return timeline.Figure(testpictures.Siphoned(), timeline.Options{Align: timeline.AlignFloor, Units: layers.Inches})
	}},
	{"timeline_runaway", func() *pen.Figure { return timeline.Figure(testpictures.Runaway(), timeline.Options{}) }},
	{"timeline_years", func() *pen.Figure { return timeline.Figure(testpictures.TenYears(), timeline.Options{}) }},
	{"years", func() *pen.Figure {
		return timeline.Years(testpictures.Siphoned(), testpictures.Strips(testpictures.Siphoned()), timeline.Options{})
	}},
	{"change", func() *pen.Figure { return Change(changed(), layers.MM) }},
	{"small", func() *pen.Figure { return Small(pressing(), layers.MM)[0] }},
	{"beside", func() *pen.Figure {
		return Beside("Two cores", []Named{{"front, read 2026-10-04", thinCore()}, {"as typed", thinCore()}}, layers.MM)
	}},
	{"overview", func() *pen.Figure { return Overview(pressing(), layers.MM) }},
	{"tags", func() *pen.Figure { return drawnTags(100) }},
}

// goldenScale is what the stored pictures are drawn at, pixels a millimetre.
const goldenScale = 4

// The stored pictures were looked at. Renewed with -update.
func TestFigures_golden(t *testing.T) {
	for _, g := range goldens {
		t.Run(g.name, func(t *testing.T) {
			var got bytes.Buffer
			if err := g.draw().WritePNG(&got, goldenScale); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join("..", "..", "testdata", "figure", g.name+".png")
			if *update {
				if err := os.WriteFile(path, got.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			stored, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			off, err := testlikeness.Differing(got.Bytes(), stored)
			if err != nil || off > 0.0005 {
				t.Errorf("%.2f %% of the pixels differ from %s (%v); look at it, then renew it with -update", 100*off, path, err)
			}
		})
	}
}

// formats are those that a figure is written in.
var formats = []struct {
	name  string
	write func(*pen.Figure, io.Writer) error
}{
	{"SVG", (*pen.Figure).WriteSVG}, {"PDF", (*pen.Figure).WritePDF},
	{"PNG", func(f *pen.Figure, w io.Writer) error { return f.WritePNG(w, goldenScale) }},
}

// The same findings give the same bytes, in every format, and SVG is well-formed XML with
// a title and a description.
func TestFigures_sameBytes(t *testing.T) {
	for _, g := range goldens {
		for _, format := range formats {
			var first, second bytes.Buffer
			if err := errors.Join(format.write(g.draw(), &first), format.write(g.draw(), &second)); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(first.Bytes(), second.Bytes()) {
				t.Errorf("%s: the same figure gave other bytes as %s", g.name, format.name)
			}
			if format.name == "SVG" {
				wellFormed(t, first.Bytes())
			}
		}
	}
}

func wellFormed(t *testing.T, svg []byte) {
	t.Helper()
	var file struct {
		XMLName xml.Name `xml:"http://www.w3.org/2000/svg svg"`
		Title   string   `xml:"title"`
		Desc    string   `xml:"desc"`
	}
	if err := xml.Unmarshal(svg, &file); err != nil {
		t.Error(err)
	}
	if file.Title == "" || file.Desc == "" {
		t.Errorf("title %q, description %q: want both", file.Title, file.Desc)
	}
}

// What a keeper typed is shown as text, whatever it is.
func TestWriteSVG_escapes(t *testing.T) {
	const name = "<script>alert(1)</script> & \"quoted\" \u202etxet \x00 \x1b[31m \xff"
	core := thinCore()
	core.Station = name
	f := Core(core, CoreOptions{Tank: name})
	var svg bytes.Buffer
	if err := f.WriteSVG(&svg); err != nil {
		t.Fatal(err)
	}
	wellFormed(t, svg.Bytes())
	if bytes.Contains(svg.Bytes(), []byte("<script")) || bytes.ContainsAny(svg.Bytes(), "\u202e\x00\x1b") {
		t.Error("what was typed got through as it was")
	}
	if want := "&lt;script&gt;alert(1)&lt;/script&gt; &amp; &#34;quoted&#34;"; !bytes.Contains(svg.Bytes(), []byte(want)) {
		t.Errorf("found no %q", want)
	}
}

// Names in any letters go into every kind of picture and every format.
func TestFigures_anyLetters(t *testing.T) {
	for _, name := range []string{"eel tub 🐟🪱", "حوض الغرفة", "前面の水槽", "𐌰𠀋"} {
		core, oxygen, rehearsal, line, all := thinCore(), shortOfOxygen(), rehearsedStir(), testpictures.Siphoned(), pressing()
		core.Station, core.Note = name, name
		oxygen.Name, rehearsal.Name, line.Name, line.Stations[0].Station, line.Events[1].Note = name, name, name, name, name
		all.Tanks[0].Name, all.Tanks[0].Cores[0].Station = name, name
		for _, f := range append(Small(all, layers.MM),
			Core(core, CoreOptions{Tank: name}), Oxygen(oxygen, layers.MM), Rehearsal(rehearsal, layers.MM),
			timeline.Figure(line, timeline.Options{}), Beside(name, []Named{{name, core}}, layers.MM), Overview(all, layers.MM)) {
			for _, format := range formats {
				if err := format.write(f, io.Discard); err != nil {
					t.Errorf("%s as %s: %v", f.Title, format.name, err)
				}
			}
		}
	}
}

func decoded(t *testing.T, file []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return img
}
