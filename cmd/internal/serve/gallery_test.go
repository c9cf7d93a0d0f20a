package serve

import (
	"bytes"
	"errors"
	"image/jpeg"
	"testing"

	"panecore/layers"
	"panecore/reports/web/site"
)

// The demo's photo is shown with what was read, its strip to scale, and kept in memory while nothing that it depends on
// changes; a core without a photo has none.
func TestStore_album(t *testing.T) {
	p, _ := newTestStore(t)
	ctx := t.Context()
	tank, err := p.Tank(ctx, "sack-hoist")
	if err != nil {
		t.Fatal(err)
	}
	core := tank.Cores[0]
	strips, err := p.Strips(ctx, tank)
	if err != nil || len(strips) != 1 || !strips[0].Carded || strips[0].WidthMM <= 0 {
		t.Fatalf("strips %+v, %v, want the demo's", strips, err)
	}
	for name, test := range map[string]struct {
		make          func() ([]byte, error)
		width, height int // 0: any
	}{
		"drawn": {func() ([]byte, error) { return p.Drawn(ctx, tank, core) }, 0, 0},
		"strip": {func() ([]byte, error) { return p.Strip(ctx, tank, core) }, int(4*strips[0].WidthMM + 0.5), int(4*(strips[0].AboveMM+strips[0].DepthMM) + 0.5)},
	} {
		first, err := test.make()
		if err != nil {
			t.Fatal(name, err)
		}
		again, err := test.make()
		if err != nil || &first[0] != &again[0] {
			t.Errorf("%s: made anew, %v", name, err)
		}
		img, err := jpeg.Decode(bytes.NewReader(first))
		if err != nil || test.width > 0 && (img.Bounds().Dx() != test.width || img.Bounds().Dy() != test.height) {
			t.Errorf("%s: %v, %v, want %d x %d", name, img.Bounds(), err, test.width, test.height)
		}
	}
	before, _ := p.Drawn(ctx, tank, core)
	core.Layers[0].ThicknessMM++
	if after, err := p.Drawn(ctx, tank, core); err != nil || bytes.Equal(before, after) {
		t.Errorf("the core was amended and its picture is the same, %v", err)
	}
	if same, err := p.Change(ctx, tank, tank.Cores[0], tank.Cores[0]); err != nil || same.Share != 0 || same.Strips[0].Picture == nil {
		t.Errorf("a photo differs from itself by %.2f, %v", same.Share, err)
	}
	none := layers.Core{Station: "front", Date: 20000}
	_, drawn := p.Drawn(ctx, tank, none)
	_, file := p.PhotoFile(ctx, tank, none)
	if !errors.Is(drawn, site.ErrMissing) || !errors.Is(file, site.ErrMissing) {
		t.Errorf("got %v and %v, want that there is none", drawn, file)
	}
}

// A gallery forgets what is oldest.
func TestGallery(t *testing.T) {
	g := gallery[int]{most: 2}
	for i, key := range []string{"a", "b", "b", "c"} {
		g.keep(key, i)
	}
	_, a := g.find("a")
	b, _ := g.find("b")
	c, _ := g.find("c")
	if a || b != 2 || c != 3 {
		t.Errorf("a is there: %t, b is %d, c is %d", a, b, c)
	}
}
