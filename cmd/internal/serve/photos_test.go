package serve

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panecore/cmd/internal/demo"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/web/reader"
	"panecore/reports/web/site"
)

// phonePhoto is the demo's photo with 12 megapixels, as phones take them, and what is
// marked on it.
func phonePhoto(tb testing.TB) (file []byte, marks layers.Marks) {
	tb.Helper()
	const by = 2.5
	img, err := jpeg.Decode(bytes.NewReader(demoFile(tb, "photo.jpg")))
	if err != nil {
		tb.Fatal(err)
	}
	small := img.(*image.YCbCr)
	large := image.NewYCbCr(image.Rect(0, 0, int(by*float64(small.Rect.Dx())), int(by*float64(small.Rect.Dy()))), small.SubsampleRatio)
	for y := range large.Rect.Dy() {
		for x := range large.Rect.Dx() {
			from := [2]int{int(float64(x) / by), int(float64(y) / by)}
			large.Y[large.YOffset(x, y)] = small.Y[small.YOffset(from[0], from[1])]
			at, c := large.COffset(x, y), small.COffset(from[0], from[1])
			large.Cb[at], large.Cr[at] = small.Cb[c], small.Cr[c]
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, large, &jpeg.Options{Quality: 92}); err != nil {
		tb.Fatal(err)
	}
	marks = demoMarks(tb)
	scale := func(sides []float64) {
		for i := range sides {
			sides[i] *= by
		}
	}
	scale(marks.Strip[:])
	scale(marks.Ruler[:4])
	*marks.Surface *= by
	for i := range marks.Neutral {
		scale(marks.Neutral[i].Box[:])
	}
	return b.Bytes(), marks
}

// demoFile is a file of the demo's.
func demoFile(tb testing.TB, name string) []byte {
	tb.Helper()
	content, err := os.ReadFile(filepath.Join("..", "demo", name))
	if err != nil {
		tb.Fatal(err)
	}
	return content
}

// demoMarks are what is marked on the demo's photo.
func demoMarks(tb testing.TB) layers.Marks {
	tb.Helper()
	marks, err := layers.DecodeMarks(demoFile(tb, "photo.json"))
	if err != nil {
		tb.Fatal(err)
	}
	return marks
}

// demoNative is the substrate of the demo's photo, and farDay, 2100-01-01, lies behind every date.
var demoNative = layers.Native{Kind: layers.Sand, Color: palette.Color{R: 0xb0, G: 0x96, B: 0x77}}

const farDay layers.Date = 47482

func taskOf(marks layers.Marks) reader.Task {
	return reader.Task{
		Tank: layers.Tank{ID: "sack-hoist", Native: []layers.Native{demoNative}}, Marks: marks,
		Core: layers.Core{Station: "front", Date: farDay},
	}
}

// BenchmarkPageShot is what a keeper waits for who reads a photo of 12 megapixels on the
// page.
func BenchmarkPageShot(b *testing.B) {
	file, marks := phonePhoto(b)
	open := func() reader.Shot {
		shot, err := pagePhotoReader{}.Open(file)
		if err != nil {
			b.Fatal(err)
		}
		return shot
	}
	read := func(shot reader.Shot, task reader.Task) reader.Result {
		result, err := shot.Read(task)
		if err != nil {
			b.Fatal(err)
		}
		return result
	}
	shot, task := open(), taskOf(marks)
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			open()
		}
	})
	b.Run("screen", func(b *testing.B) {
		for b.Loop() {
			shot.(*pageShot).screen = nil
			if _, err := shot.Screen(); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("changed pick", func(b *testing.B) {
		for b.Loop() {
			marks.Strip[2]--
			read(shot, taskOf(marks))
		}
	})
	b.Run("changed cut", func(b *testing.B) {
		task.Cuts = cutsOf(read(shot, task))
		for b.Loop() {
			task.Cuts[0].BottomMM += 1e-6
			read(shot, task)
		}
	})
	b.Run("kept", func(b *testing.B) {
		read(shot, task)
		for b.Loop() {
			if _, err := shot.Kept(); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func openDemoPhoto(t *testing.T) *pageShot {
	t.Helper()
	shot, err := pagePhotoReader{}.Open(demoFile(t, "photo.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	return shot.(*pageShot)
}

func readOn(t *testing.T, shot *pageShot, task reader.Task) reader.Result {
	t.Helper()
	result, err := shot.Read(task)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// cutsOf are a result's own layers as a keeper would have them.
func cutsOf(r reader.Result) (cuts []reader.Cut) {
	depth := 0.0
	for _, layer := range r.Core.Layers {
		depth += layer.ThicknessMM
		cuts = append(cuts, reader.Cut{BottomMM: depth})
	}
	return cuts
}

// bend pulls the first part of an edge down by some mm.
func bend(mm float64) layers.Bend {
	b := make(layers.Bend, layers.BendParts)
	for i := range b {
		b[i] = new(float64)
	}
	*b[0] = mm
	return b
}

// The page reads what 'panecore photo --json' reads, and has an edge a layer and one more.
func TestPageShot_readsAsThePhotoCommand(t *testing.T) {
	task := taskOf(demoMarks(t))
	task.Core, task.Tank.ID = layers.Core{}, "" // the draws go by the id
	got := readOn(t, openDemoPhoto(t), task)
	var want bytes.Buffer
	command := demo.NewCommand(&shell.Shell{Env: shell.Env{Stderr: io.Discard}, Out: &want, JSON: true})
	command.SetArgs([]string{"--photo"})
	if err := command.Execute(); err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	if err := shell.WriteJSON(&text, got.PhotoCore); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want.String(), text.String()); diff != "" {
		t.Errorf("the command's reading (-) and the page's (+):\n%s", diff)
	}
	if len(got.Edges) != len(got.Core.Layers)+1 || got.Strip[2][1] <= got.Strip[1][1] {
		t.Errorf("%d edges of %d layers, strip %v", len(got.Edges), len(got.Core.Layers), got.Strip)
	}
}

// A tag on the pane tells tank, station, scale and tilt, and contradicts what was chosen otherwise.
func TestPageShot_foundByTag(t *testing.T) {
	content, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "photos", "tagged.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	shot, err := pagePhotoReader{}.Open(content)
	if err != nil {
		t.Fatal(err)
	}
	none := func(reader.Place) (reader.LastPhoto, bool, error) { return reader.LastPhoto{}, false, nil }
	at := reader.Place{Tank: "hall", Station: "front"}
	found, err := shot.Found(reader.Place{}, none)
	if err != nil || found.Place != at || found.Said != "" || found.Marks.Plane == nil || found.Marks.Strip[2] == 0 || found.Ruler.Doubtful {
		t.Errorf("found %+v, %v, want the marks of %v by its tag", found, err, at)
	}
	other := reader.Place{Tank: "weir", Station: "front"}
	if found, err = shot.Found(other, none); err != nil || found.Place != other || !strings.Contains(found.Said, `of tank "hall"`) {
		t.Errorf("of another tank: found %v, %q, %v, want to be told of the tag", found.Place, found.Said, err)
	}
}

// What was read before leaves no trace in what is read now.
func TestPageShot_readsTheSameAgain(t *testing.T) {
	shot, task := openDemoPhoto(t), taskOf(demoMarks(t))
	first := readOn(t, shot, task)
	for name, change := range map[string]func(*reader.Task){
		"an edge":     func(o *reader.Task) { o.Cuts = cutsOf(first); o.Cuts[0].BottomMM += 2 },
		"the surface": func(o *reader.Task) { o.Cuts = cutsOf(first); o.Surface.BottomMM = -1 },
		"a bend":      func(o *reader.Task) { o.Cuts = cutsOf(first); o.Cuts[0].Bend = bend(3) },
		"a band":      func(o *reader.Task) { o.Cuts = cutsOf(first); o.Cuts[1].Band = palette.Grey },
		"the strip":   func(o *reader.Task) { o.Marks.Strip[2] /= 2 },
		"the substrate": func(o *reader.Task) {
			o.Tank.Native = []layers.Native{{Kind: layers.Soil, Color: palette.Color{R: 40, G: 30, B: 25}}}
		},
		"the keeper's mind": func(o *reader.Task) {
			o.Own = []palette.Prototype{{Band: palette.Grey, Color: first.Core.Layers[0].Color, Spread: 3, Source: "the keeper"}}
		},
		"the day": func(o *reader.Task) { o.Core.Date-- },
	} {
		other := task
		change(&other)
		got := readOn(t, shot, other)
		if cmp.Equal(first, got) {
			t.Errorf("%s was changed, and the reading is the same", name)
		}
		if diff := cmp.Diff(readOn(t, openDemoPhoto(t), other), got); diff != "" {
			t.Errorf("%s was changed, and the reading is not that of a photo just opened:\n%s", name, diff)
		}
		if again := readOn(t, shot, task); !cmp.Equal(first, again) {
			t.Errorf("%s was changed and changed back, and the reading is another:\n%s", name, cmp.Diff(first, again))
		}
	}
}

func TestPageShot_refuses(t *testing.T) {
	shot := openDemoPhoto(t)
	if _, err := shot.Kept(); !errors.Is(err, site.ErrInput) {
		t.Errorf("kept before it was read: %v", err)
	}
	for name, c := range map[string]struct {
		change func(*reader.Task)
		want   string
	}{
		"a refusal":     {func(o *reader.Task) { o.Marks.Strip[0] = 1500 }, "picks outside the picture: "},
		"crossed edges": {func(o *reader.Task) { o.Cuts = []reader.Cut{{BottomMM: 20}, {BottomMM: 10}, {BottomMM: 30}} }, "found layer 2 "},
		"no cut":        {func(o *reader.Task) { o.Surface.BottomMM = 1 }, "found no layer, "},
	} {
		task := taskOf(demoMarks(t))
		c.change(&task)
		if _, err := shot.Read(task); !errors.Is(err, site.ErrInput) || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	if _, err := (pagePhotoReader{}).Open([]byte("<html>")); err == nil || strings.Contains(err.Error(), "\n") {
		t.Errorf("a file that is no photo: %v", err)
	}
}

// The picture for the screen is made once, and is no larger than it has to be.
func TestPageShot_screen(t *testing.T) {
	var file bytes.Buffer
	if err := png.Encode(&file, image.NewGray(image.Rect(0, 0, 3000, 300))); err != nil {
		t.Fatal(err)
	}
	shot, err := pagePhotoReader{}.Open(file.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	first, err := shot.Screen()
	if err != nil {
		t.Fatal(err)
	}
	if again, _ := shot.Screen(); &first[0] != &again[0] {
		t.Error("it was made twice")
	}
	size, err := jpeg.DecodeConfig(bytes.NewReader(first))
	if err != nil || size.Width != screenSide || size.Height != screenSide/10 {
		t.Errorf("%d x %d pixels, %v", size.Width, size.Height, err)
	}
}

// A name that is chosen on the page stays with the core and teaches the next reading, which forgets it with the core.
func TestPageShot_taught(t *testing.T) {
	shot, err := pagePhotoReader{}.Open(demoFile(t, "photo.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	read := func(task reader.Task) reader.Result {
		t.Helper()
		result, err := shot.Read(task)
		if err != nil {
			t.Fatal(err)
		}
		return result
	}
	task := taskOf(demoMarks(t))
	untaught := read(task)
	if untaught.Photo.TaughtBy != nil {
		t.Errorf("taught by %+v before anything was named", *untaught.Photo.TaughtBy)
	}
	name := untaught.Layers[0].Band
	confirmed := task
	confirmed.Cuts = cutsOf(untaught)
	confirmed.Cuts[0].Band = name
	former := read(confirmed).Core
	if got := former.Layers[0].Band; got != name {
		t.Fatalf("the core has the name %q, want %q", got, name)
	}
	former.Date--
	task.Tank.Cores = []layers.Core{former}
	taught := read(task)
	if diff := cmp.Diff(&reports.TaughtBy{Photos: 1, OfStation: 1}, taught.Photo.TaughtBy); diff != "" {
		t.Error(diff)
	}
	if was, is := untaught.Layers[0].Probability, taught.Layers[0].Probability; is < was {
		t.Errorf("%v became less likely: %v, was %v", name, is, was)
	}
	task.Tank.Cores = nil
	if diff := cmp.Diff(untaught, read(task)); diff != "" {
		t.Errorf("after the core is gone:\n%s", diff)
	}
}
