package photo

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"os"
	"reflect"
	"slices"
	"sync"
	"testing"

	"panecore/layers"
	"panecore/layers/photo/internal/testscene"
	"panecore/layers/photo/picture"
	"panecore/palette"
)

// sceneNamed is a scene of the list.
func sceneNamed(t testing.TB, name string) testscene.Scene {
	t.Helper()
	for _, s := range testscene.Scenes() {
		if s.Name == name {
			return s
		}
	}
	t.Fatalf("no scene is called %s", name)
	return testscene.Scene{}
}

// rendered are the photos of the scenes by name, stored upright, each rendered when it is first
// asked for.
var rendered = sync.OnceValue(func() map[string]func() testscene.Photo {
	photos := map[string]func() testscene.Photo{}
	for _, s := range testscene.Scenes() {
		s.Orientation = 1
		photos[s.Name] = sync.OnceValue(s.Render)
	}
	return photos
})

// photoOf is the photo of a scene of the list, stored upright.
func photoOf(t testing.TB, name string) testscene.Photo {
	t.Helper()
	return rendered()[sceneNamed(t, name).Name]()
}

// fewer is a list of what takes its time, or its first alone under -short.
func fewer[T any](t *testing.T, list ...T) []T {
	t.Helper()
	if testing.Short() && len(list) > 1 {
		t.Logf("skipped: %v, which render and read photos; run without -short", list[1:])
		return list[:1]
	}
	return list
}

// picksOf are what a keeper would mark on a rendered photo.
func picksOf(truth testscene.Truth) Picks {
	r := truth.Ruler
	return Picks{
		Strip: boxOf(truth.Strip), SurfaceY: &truth.SurfaceY, Neutral: []Card{{Box: boxOf(truth.Neutral)}},
		Ruler: Ruler{r[0], r[1], r[2], r[3], truth.RulerMM},
	}
}

func boxOf(sides [4]float64) Box { return Box{sides[0], sides[1], sides[2], sides[3]} }

// scaled are the picks on a picture so many times as large.
func (p Picks) scaled(by float64) Picks {
	scale := func(b Box) Box { return Box{by * b.X, by * b.Y, by * b.W, by * b.H} }
	surface := by * *p.SurfaceY
	out := Picks{Strip: scale(p.Strip), SurfaceY: &surface, Ruler: Ruler{by * p.Ruler.X1, by * p.Ruler.Y1, by * p.Ruler.X2, by * p.Ruler.Y2, p.Ruler.LengthMM}}
	for _, c := range p.Neutral {
		out.Neutral = append(out.Neutral, Card{scale(c.Box), c.Reflectance})
	}
	return out
}

func matcherFor(native palette.Color) *palette.Matcher {
	return palette.NewMatcher([]palette.Baseline{{Kind: "laid", Color: native}}, nil)
}

func decodedFile(t testing.TB, file []byte) *picture.Picture {
	t.Helper()
	p, err := picture.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func readScene(t testing.TB, photo testscene.Photo) *Reading {
	t.Helper()
	r, err := Read(decodedFile(t, photo.JPEG), picksOf(photo.Truth), matcherFor(photo.Truth.NativeTyped))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// depths are those of the lower edges of all layers but the last, mm.
func (r *Reading) depths() (list []float64) {
	depth := 0.0
	for _, l := range r.Core.Layers[:len(r.Core.Layers)-1] {
		depth += l.ThicknessMM
		list = append(list, depth)
	}
	return list
}

// sameReading fails where a reading has other layers than another or their edges lie further apart
// than tolerance, mm.
func sameReading(t *testing.T, got, want *Reading, tolerance float64) {
	t.Helper()
	if !slices.Equal(got.Names, want.Names) {
		t.Errorf("read %v, want %v", got.Names, want.Names)
		return
	}
	g, w := got.depths(), want.depths()
	for i := range w {
		if math.Abs(g[i]-w[i]) > tolerance {
			t.Errorf("edges lie at %.2f, want %.2f to within %g mm", g, w, tolerance)
			return
		}
	}
}

// plainScenes are such as differ in substrate and bands and leave no doubt of a name.
var plainScenes = []string{"easy-01", "easy-05"}

func TestRead_rolled(t *testing.T) {
	for _, name := range fewer(t, plainScenes...) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := sceneNamed(t, name)
			s.PickErrMM, s.RollDeg = 0, 0
			upright := readScene(t, s.Render())
			for _, roll := range fewer(t, 4.9, -4.9) {
				s.RollDeg = roll
				r := readScene(t, s.Render())
				if math.Abs(r.RollDegrees-roll) > 0.05 {
					t.Errorf("rolled by %.2f degrees, want %.2f", r.RollDegrees, roll)
				}
				sameReading(t, r, upright, 0.7) // the surface is good to 0.3 mm, and its place shifts them all
			}
		})
	}
}

func TestRead_orientation(t *testing.T) {
	s := sceneNamed(t, plainScenes[0])
	upright := readScene(t, photoOf(t, s.Name))
	for _, o := range fewer(t, 6, 3) { // the picture package tries them all
		s.Orientation = o
		sameReading(t, readScene(t, s.Render()), upright, 0.1) // the JPEG's blocks lie otherwise
	}
}

// enlarged is a photo of so many times as many pixels across, as a JPEG.
func enlarged(t testing.TB, file []byte, by float64) []byte {
	t.Helper()
	img, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	from := img.(*image.YCbCr)
	w, h := int(by*float64(from.Rect.Dx())), int(by*float64(from.Rect.Dy()))
	to := image.NewYCbCr(image.Rect(0, 0, w, h), from.SubsampleRatio)
	for y := range h {
		for x := range w {
			sx, sy := int((float64(x)+0.5)/by), int((float64(y)+0.5)/by)
			to.Y[to.YOffset(x, y)] = from.Y[from.YOffset(sx, sy)]
			to.Cb[to.COffset(x, y)], to.Cr[to.COffset(x, y)] = from.Cb[from.COffset(sx, sy)], from.Cr[from.COffset(sx, sy)]
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, to, &jpeg.Options{Quality: 92}); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// Twice the pixels across show the same bed.
func TestRead_enlarged(t *testing.T) {
	photo := photoOf(t, plainScenes[1])
	want := readScene(t, photo)
	got, err := Read(decodedFile(t, enlarged(t, photo.JPEG, 2)), picksOf(photo.Truth).scaled(2), matcherFor(photo.Truth.NativeTyped))
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.PxPerMM-2*want.PxPerMM) > 1e-9 {
		t.Errorf("%.3f px/mm, want twice %.3f", got.PxPerMM, want.PxPerMM)
	}
	sameReading(t, got, want, 0.3)
}

// What a reading tells of itself hangs together, and the same photo tells it again to the last digit.
func TestRead_whole(t *testing.T) {
	for _, name := range fewer(t, "easy-02", "middling-05", "hard-09") {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			photo := photoOf(t, name)
			r := readScene(t, photo)
			picks := picksOf(photo.Truth)
			checkWhole(t, r, picks)
			surface := 0.0
			for _, p := range r.Edges[0] {
				surface += p.Y / float64(len(r.Edges[0]))
			}
			// but for what a whole number of cells leaves over, and what snails and pebbles on the surface
			// add to the mean of its line
			want := (picks.Strip.Y + picks.Strip.H - surface) / r.PxPerMM * math.Cos(r.RollDegrees*math.Pi/180)
			if got := r.Core.DepthMM(); math.Abs(got-want) > 1 {
				t.Errorf("thicknesses add up to %.2f mm, from the surface to the strip's foot are %.2f", got, want)
			}
			again := readScene(t, photo)
			if !reflect.DeepEqual(r, again) {
				t.Error("the same photo gives another reading")
			}
		})
	}
}

// sandPhoto is a stored photo of a bed, marked.
func sandPhoto(t *testing.T) (*picture.Picture, Picks, *palette.Matcher) {
	t.Helper()
	file, err := os.ReadFile("../../testdata/photos/sand.jpg")
	if err != nil {
		t.Fatal(err)
	}
	surface := 347.2
	picks := Picks{
		Strip: Box{588, 196, 609, 805}, SurfaceY: &surface, Ruler: Ruler{183.4, 93.5, 183.4, 1008.3, 70},
		Neutral: []Card{{Box: Box{1359, 651, 154, 95}}},
	}
	return decodedFile(t, file), picks, matcherFor(palette.Color{R: 0xd5, G: 0xc8, B: 0xa5})
}

// A stone at the strip's foot in a part of its width is no layer, wherever the strip is marked.
func TestRead_foot(t *testing.T) {
	p, picks, matcher := sandPhoto(t)
	left := picks.Strip.X
	for shift := range 10 {
		picks.Strip.X = left + float64(shift-5)
		r, err := Read(p, picks, matcher)
		if err != nil {
			t.Fatal(err)
		}
		if last := len(r.Names) - 1; r.Names[last] != palette.Native || r.Core.Layers[last].ThicknessMM < thinnestLayer {
			t.Errorf("strip from %g: the last layer is %v, %.2f mm", picks.Strip.X, r.Names[last], r.Core.Layers[last].ThicknessMM)
		}
	}
}

// checkWhole fails where a reading contradicts itself or has a number that is none.
func checkWhole(t *testing.T, r *Reading, picks Picks) {
	t.Helper()
	n := len(r.Core.Layers)
	if n == 0 || len(r.Names) != n || len(r.Edges) != n+1 || r.Core.Photo == nil {
		t.Fatalf("%d layers, %d names, %d edges", n, len(r.Names), len(r.Edges))
	}
	light := r.Core.Photo.Light
	finite(t, "scale, roll, glare", r.PxPerMM, r.RollDegrees, r.GlareShare)
	finite(t, "light", r.Gain[0], r.Gain[1], r.Gain[2], r.Light.EV, r.Light.EVDoubt, r.Light.Veil, r.Light.VeilDoubt, light.EV, light.EVDoubt, light.Veil, light.VeilDoubt)
	finite(t, "doubts", r.Core.Photo.ColorDoubt, r.Core.Photo.ScaleError)
	if r.GlareShare < 0 || r.GlareShare > 1 || r.Cards > len(picks.Neutral) || r.Reliable && slices.Contains(r.Warnings, "") {
		t.Errorf("glare share %v, %d cards, warned %q", r.GlareShare, r.Cards, r.Warnings)
	}
	checkEdge(t, &r.Core.Photo.Surface)
	for i, l := range r.Core.Layers {
		finite(t, "thickness", l.ThicknessMM)
		if l.ThicknessMM < leastThere && n > 1 || r.Names[i] == palette.NoBand {
			t.Errorf("layer %d is %v and %g mm thick", i, r.Names[i], l.ThicknessMM)
		}
		checkEdge(t, l.Edge)
	}
	for _, corner := range r.Strip {
		finite(t, "strip", corner.X, corner.Y)
	}
	top := min(picks.Strip.Y, max(0, *picks.SurfaceY-waterAbove*r.PxPerMM))
	if x, y := (r.Strip[0].X+r.Strip[1].X)/2, (r.Strip[0].Y+r.Strip[1].Y)/2; math.Abs(x-picks.Strip.X-picks.Strip.W/2) > 1e-6 || math.Abs(y-top) > 1e-6 {
		t.Errorf("the strip begins about %.2f,%.2f, want %.2f,%.2f", x, y, picks.Strip.X+picks.Strip.W/2, top)
	}
	for k, line := range r.Edges {
		if len(line) != len(r.Edges[0]) {
			t.Errorf("edge %d has %d points, the surface %d", k, len(line), len(r.Edges[0]))
		}
		for b, p := range line {
			finite(t, "edge", p.X, p.Y)
			if k > 0 && len(line) == len(r.Edges[k-1]) && p.Y < r.Edges[k-1][b].Y-1e-6 {
				t.Errorf("edge %d crosses the one above", k)
				break
			}
		}
	}
}

func checkEdge(t *testing.T, e *layers.Edge) {
	t.Helper()
	if e == nil {
		t.Fatal("an edge has no doubt")
	}
	finite(t, "edge", e.ErrorMM, e.HighestMM, e.LowestMM)
	if e.ErrorMM < 0 || e.HighestMM > e.LowestMM {
		t.Errorf("edge off by %g mm, from %g to %g", e.ErrorMM, e.HighestMM, e.LowestMM)
	}
}

func finite(t *testing.T, name string, list ...float64) {
	t.Helper()
	for _, v := range list {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("%s: %v", name, list)
			return
		}
	}
}

// A core kept in a document and matched again has the names and the probabilities of the
// reading, but for the colours' rounding to eight bits.
func TestRead_kept(t *testing.T) {
	for _, name := range fewer(t, "easy-03", "middling-02") {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			photo := photoOf(t, name)
			r := readScene(t, photo)
			core := r.Core
			core.Date, core.Station = layers.FirstDate, "front"
			core.Photo.SHA256 = string(bytes.Repeat([]byte("0"), 64))
			var document bytes.Buffer
			if err := layers.Encode(&document, []layers.Tank{{ID: "kettle", Cores: []layers.Core{core}}}); err != nil {
				t.Fatal(err)
			}
			var kept layers.Core
			d := layers.NewDecoder(&document, layers.FirstDate)
			for tank := range d.Tanks() {
				kept = tank.Cores[0]
			}
			if err := d.Err(); err != nil {
				t.Fatal(err)
			}
			column := palette.Column{Light: kept.Photo.Light}
			depth := 0.0
			for _, l := range kept.Layers {
				column.Layers = append(column.Layers, palette.Seen{
					Lab: l.Color.Lab(), ThicknessMM: l.ThicknessMM, DepthMM: depth + l.ThicknessMM/2, Doubt: kept.Photo.ColorDoubt,
					Texture: palette.Texture{Contrast: l.Edge.Contrast, Fineness: l.Edge.Fineness},
				})
				depth += l.ThicknessMM
			}
			match := matcherFor(photo.Truth.NativeTyped).Match(column)
			if got := match.Names(); !slices.Equal(got, r.Names) {
				t.Errorf("kept as %v, read as %v", got, r.Names)
			}
			if left := match.Light(); math.Abs(left.EV) > 0.03 || math.Abs(left.Veil) > 0.003 {
				t.Errorf("light left over in what was kept: %+v", left)
			}
		})
	}
}

// Every edge has its line across the strip and a confidence, which falls with its error.
func TestRead_lines(t *testing.T) {
	photo := photoOf(t, "easy-01")
	picks := picksOf(photo.Truth)
	r, err := Read(decodedFile(t, photo.JPEG), picks, matcherFor(photo.Truth.NativeTyped))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(r.Core.Layers) + 1; len(r.Edges) != n || len(r.Confidence) != n {
		t.Fatalf("%d lines and %d confidences, want %d", len(r.Edges), len(r.Confidence), n)
	}
	for i, line := range r.Edges {
		for j, at := range line {
			if at.X < picks.Strip.X-2 || at.X > picks.Strip.X+picks.Strip.W+2 || j > 0 && at.X <= line[j-1].X {
				t.Errorf("edge %d leaves the strip or turns back at %v", i, at)
			}
		}
		if c := r.Confidence[i]; !(c > 0.5 && c <= 1) {
			t.Errorf("edge %d has confidence %g", i, c)
		}
	}
	if got := confidence(layers.Edge{ErrorMM: 1}); math.Abs(got-0.6827) > 0.0001 { // a normal error of as much
		t.Errorf("got confidence %.4f, want 0.6827", got)
	}
	if got := confidence(layers.Edge{}); got != 1 {
		t.Errorf("got confidence %g of no error, want 1", got)
	}
}
