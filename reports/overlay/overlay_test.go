package overlay

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testlikeness"
)

var update = flag.Bool("update", false, "rewrite the stored picture")

// decoded is a picture whose pixels have the colours given.
func decoded(t rapid.TB, width, height int, at func(x, y int) color.NRGBA) *picture.Picture {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			img.SetNRGBA(x, y, at(x, y))
		}
	}
	var file bytes.Buffer
	if err := png.Encode(&file, img); err != nil {
		t.Fatal(err)
	}
	p, err := picture.Decode(file.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func grey(level uint8) color.NRGBA { return color.NRGBA{level, level, level, 255} }

// drawingOf is a drawing of layers so many mm thick below a surface at row 40, ten pixels
// a millimetre.
func drawingOf(t rapid.TB, width, height int, strip photo.Box, thicknesses ...float64) Drawing {
	t.Helper()
	const pxPerMM, surface = 10, 40.0
	shades := []uint8{92, 214, 150, 30, 120}
	bands := []palette.Band{palette.MulmLight, palette.Native, palette.Rust, palette.Black, palette.Grey}
	d := Drawing{
		Picks: photo.Picks{
			Strip:   strip,
			Ruler:   photo.Ruler{X1: 12, Y1: 20, X2: 12, Y2: 320, LengthMM: 30},
			Neutral: []photo.Card{{Box: photo.Box{X: 160, Y: 10, W: 40, H: 30}}},
		},
		Reading: &photo.Reading{PxPerMM: pxPerMM, Masked: [][4]photo.Point{{
			{X: strip.X + 10, Y: 60}, {X: strip.X + 30, Y: 60}, {X: strip.X + 40, Y: 160}, {X: strip.X + 20, Y: 160},
		}}},
		Core: reports.Core{Reliable: true, OxicDepth: &reports.Estimate{Value: 12, Low: 11, High: 13.5}},
	}
	d.Reading.Strip = [4]photo.Point{
		{X: strip.X, Y: strip.Y}, {X: strip.X + strip.W, Y: strip.Y}, {X: strip.X + strip.W, Y: strip.Y + strip.H}, {X: strip.X, Y: strip.Y + strip.H},
	}
	edge := func(mm float64) {
		var line []photo.Point
		for i := range 21 {
			line = append(line, photo.Point{X: strip.X + strip.W*float64(i)/20, Y: surface + pxPerMM*mm + 3*math.Sin(float64(i))})
		}
		d.Reading.Edges = append(d.Reading.Edges, line)
	}
	edge(0)
	depth := 0.0
	var feet []float64
	for i, mm := range thicknesses {
		d.Core.Layers = append(d.Core.Layers, reports.Layer{
			TopMM: depth, Thickness: reports.Estimate{Value: mm}, Band: bands[i%len(bands)], Probability: 0.9,
			Hex: palette.Color{R: shades[i%len(shades)], G: shades[i%len(shades)], B: shades[i%len(shades)]},
		})
		depth += mm
		feet = append(feet, depth)
		edge(depth)
	}
	d.Picture = decoded(t, width, height, func(x, y int) color.NRGBA {
		mm := (float64(y) - surface) / pxPerMM
		for i, foot := range feet {
			if mm >= 0 && mm < foot {
				return grey(shades[i%len(shades)])
			}
		}
		return color.NRGBA{100, 130, 150, 255}
	})
	return d
}

func written(t *testing.T, d Drawing) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The stored pictures were looked at. Renewed with -update.
func TestWrite_golden(t *testing.T) {
	thin := drawingOf(t, 640, 400, photo.Box{X: 250, Y: 20, W: 120, H: 360}, 10, 1.5, 2, 1.6, 9, 9)
	thin.Core.Layers[1].Probability, thin.Core.Layers[1].Alternatives = 0.5, []reports.Alternative{{Band: palette.Grey, Probability: 0.4}}
	golden(t, "thin_layers.png", thin)
	moved := drawingOf(t, 640, 400, photo.Box{X: 250, Y: 20, W: 120, H: 360}, 10, 8, 12)
	moved.Core.Layers[1].Labelled, moved.Reading.Moved = true, []bool{true, false, true, false}
	golden(t, "moved_edges.png", moved)
}

// golden compares a picture with a stored one.
func golden(t *testing.T, name string, d Drawing) {
	t.Helper()
	got := written(t, d)
	if !bytes.Equal(got, written(t, d)) {
		t.Error("the same drawing gave other bytes")
	}
	path := filepath.Join("..", "..", "testdata", "overlay", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	stored, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if off, err := testlikeness.Differing(got, stored); err != nil || off > 0.0005 {
		t.Errorf("%.2f %% of the pixels differ from %s (%v); look at it, then renew it with -update", 100*off, path, err)
	}
}

// Inches show as inches.
func TestLayerText_units(t *testing.T) {
	s := canvas{Drawing: Drawing{Units: layers.Inches}}
	got := s.layerText(reports.Layer{TopMM: 25.4, Thickness: reports.Estimate{Value: 12.7}, Band: palette.Rust, Probability: 1})
	if want := "1.00 to 1.50 in  rust"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// However thin the layers and wherever the strip, names stand on the canvas and clear of
// each other, and leaders don't cross.
func TestLeaders_neverCross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thicknesses := rapid.SliceOfN(rapid.Float64Range(0.2, 6), 1, 25).Draw(t, "thicknesses")
		width := rapid.IntRange(60, 700).Draw(t, "width")
		x := rapid.Float64Range(0, float64(width-40)).Draw(t, "x")
		s := newCanvas(drawingOf(t, width, 300, photo.Box{X: x, Y: 20, W: 40, H: 280}, thicknesses...))
		s.names()
		s.bracket()
		strip := len(s.taken)
		s.notes()
		s.taken = slices.Delete(s.taken, strip, strip+1)
		for i, plate := range s.taken {
			if !plate.In(s.img.Rect) {
				t.Errorf("plate %v is not on the canvas %v", plate, s.img.Rect)
			}
			for _, other := range s.taken[:i] {
				if plate.Overlaps(other) {
					t.Errorf("plates %v and %v overlap", plate, other)
				}
			}
		}
		list := s.leaders()
		for i := 1; i < len(list); i++ {
			if list[i].end.y-list[i-1].end.y < platePitch-1e-6 || list[i].turn.y < list[i-1].turn.y {
				t.Errorf("leader %d to %v crosses or touches the one to %v", i, list[i].end, list[i-1].end)
			}
		}
	})
}

// Half black and half white is half the light: 188 of 255 by the curve of IEC 61966-2-1.
func TestShrink_linearLight(t *testing.T) {
	p := decoded(t, 8, 4, func(x, _ int) color.NRGBA { return grey(uint8(255 * (x % 2))) })
	small := Shrink(p, 4)
	if size := small.Rect.Size(); size != (image.Point{4, 2}) {
		t.Fatalf("size %v, want 4 x 2", size)
	}
	for i, v := range small.Pix {
		if want := [4]uint8{188, 188, 188, 255}[i%4]; v != want {
			t.Fatalf("byte %d is %d, want %d", i, v, want)
		}
	}
}

// No light is lost or made, whatever the sizes.
func TestShrink_keepsTheMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width, height := rapid.IntRange(1, 40).Draw(t, "width"), rapid.IntRange(1, 40).Draw(t, "height")
		longest := rapid.IntRange(1, 50).Draw(t, "longest")
		level := uint8(rapid.IntRange(0, 255).Draw(t, "level"))
		small := Shrink(decoded(t, width, height, func(int, int) color.NRGBA { return grey(level) }), longest)
		if got, want := max(small.Rect.Dx(), small.Rect.Dy()), min(longest, max(width, height)); got != want {
			t.Errorf("longer side %d, want %d", got, want)
		}
		for i, v := range small.Pix {
			if i%4 < 3 && v != level {
				t.Fatalf("%d x %d to %v: level %d, want %d", width, height, small.Rect.Size(), v, level)
			}
		}
	})
}

// Three pixels in two: the middle one is shared.
func TestParts_shared(t *testing.T) {
	const third = 1.0 / 3
	want := []part{{0, 2 * third, 0}, {0, third, third}, {1, 2 * third, 0}}
	for i, got := range parts(3, 2) {
		if got.at != want[i].at || math.Abs(float64(got.here-want[i].here)) > 1e-6 || math.Abs(float64(got.next-want[i].next)) > 1e-6 {
			t.Errorf("part %d is %v, want %v", i, got, want[i])
		}
	}
}
