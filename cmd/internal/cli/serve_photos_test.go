package cli

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panecore/layers"
	"panecore/layers/photo"
	"panecore/palette"
	"panecore/reports/web/photos"
	"panecore/reports/web/site"
)

// phonePhoto is the demo's photo with 12 megapixels, as phones take them, and what is
// marked on it.
func phonePhoto(tb testing.TB) (file []byte, picks photo.Picks) {
	tb.Helper()
	const by = 2.5
	img, err := jpeg.Decode(bytes.NewReader(demoPhoto))
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
	picks = demoMarks(tb)
	scale := func(box photo.Box) photo.Box {
		return photo.Box{X: by * box.X, Y: by * box.Y, W: by * box.W, H: by * box.H}
	}
	r := picks.Ruler
	picks.Strip, picks.Ruler = scale(picks.Strip), photo.Ruler{X1: by * r.X1, Y1: by * r.Y1, X2: by * r.X2, Y2: by * r.Y2, LengthMM: r.LengthMM}
	*picks.SurfaceY *= by
	for i, card := range picks.Neutral {
		picks.Neutral[i].Box = scale(card.Box)
	}
	return b.Bytes(), picks
}

func demoMarks(tb testing.TB) photo.Picks {
	tb.Helper()
	picks, err := decodePicks(demoPicks)
	if err != nil {
		tb.Fatal(err)
	}
	return picks
}

func taskOf(tb testing.TB, picks photo.Picks) photos.Task {
	tb.Helper()
	return photos.Task{
		Tank: layers.Tank{ID: "sack-hoist", Native: []layers.Native{demoNative}}, Marks: toMarks(picks),
		Core: layers.Core{Station: "front", Date: demoToday},
	}
}

// BenchmarkPageShot is what a keeper waits for who reads a photo of 12 megapixels on the
// page.
func BenchmarkPageShot(b *testing.B) {
	file, picks := phonePhoto(b)
	open := func() photos.Shot {
		shot, err := pagePhotoReader{}.Open(file)
		if err != nil {
			b.Fatal(err)
		}
		return shot
	}
	read := func(shot photos.Shot, task photos.Task) photos.Result {
		result, err := shot.Read(task)
		if err != nil {
			b.Fatal(err)
		}
		return result
	}
	shot, task := open(), taskOf(b, picks)
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
			picks.Strip.W--
			read(shot, taskOf(b, picks))
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
	shot, err := pagePhotoReader{}.Open(demoPhoto)
	if err != nil {
		t.Fatal(err)
	}
	return shot.(*pageShot)
}

func readOn(t *testing.T, shot *pageShot, task photos.Task) photos.Result {
	t.Helper()
	result, err := shot.Read(task)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// cutsOf are a result's own layers as a keeper would have them.
func cutsOf(r photos.Result) (cuts []photos.Cut) {
	depth := 0.0
	for _, layer := range r.Core.Layers {
		depth += layer.ThicknessMM
		cuts = append(cuts, photos.Cut{BottomMM: depth})
	}
	return cuts
}

// The page reads what 'panecore photo --json' reads, and has an edge a layer and one more.
func TestPageShot_readsAsThePhotoCommand(t *testing.T) {
	task := taskOf(t, demoMarks(t))
	task.Core, task.Tank.ID = layers.Core{}, "" // the draws go by the id
	got := readOn(t, openDemoPhoto(t), task)
	var want bytes.Buffer
	s := &shell{env: Env{Stderr: io.Discard}, out: &want, json: true}
	if err := runDemoPhoto(s, outFile{}); err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	if err := writeJSON(&text, got.PhotoCore); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want.String(), text.String()); diff != "" {
		t.Errorf("the command's reading (-) and the page's (+):\n%s", diff)
	}
	if len(got.Edges) != len(got.Core.Layers)+1 || got.Strip[2][1] <= got.Strip[1][1] {
		t.Errorf("%d edges of %d layers, strip %v", len(got.Edges), len(got.Core.Layers), got.Strip)
	}
}

// What was read before leaves no trace in what is read now.
func TestPageShot_readsTheSameAgain(t *testing.T) {
	shot, task := openDemoPhoto(t), taskOf(t, demoMarks(t))
	first := readOn(t, shot, task)
	for name, change := range map[string]func(*photos.Task){
		"an edge":     func(o *photos.Task) { o.Cuts = cutsOf(first); o.Cuts[0].BottomMM += 2 },
		"the surface": func(o *photos.Task) { o.Cuts = cutsOf(first); o.Surface = -1 },
		"a band":      func(o *photos.Task) { o.Cuts = cutsOf(first); o.Cuts[1].Band = palette.Grey },
		"the strip":   func(o *photos.Task) { p := demoMarks(t); p.Strip.W /= 2; o.Marks = toMarks(p) },
		"the substrate": func(o *photos.Task) {
			o.Tank.Native = []layers.Native{{Kind: layers.Soil, Color: palette.Color{R: 40, G: 30, B: 25}}}
		},
		"the keeper's mind": func(o *photos.Task) {
			o.Own = []palette.Prototype{{Band: palette.Grey, Color: first.Core.Layers[0].Color, Spread: 3, Source: "the keeper"}}
		},
		"the day": func(o *photos.Task) { o.Core.Date-- },
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
		change func(*photos.Task)
		want   string
	}{
		"a refusal":     {func(o *photos.Task) { p := demoMarks(t); p.Strip.X = 1500; o.Marks = toMarks(p) }, "picks outside the picture: "},
		"crossed edges": {func(o *photos.Task) { o.Cuts = []photos.Cut{{BottomMM: 20}, {BottomMM: 10}, {BottomMM: 30}} }, "found layer 2 "},
		"no cut":        {func(o *photos.Task) { o.Surface = 1 }, "found no layer, "},
	} {
		task := taskOf(t, demoMarks(t))
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
