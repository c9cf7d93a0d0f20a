package tagged_test

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"rsc.io/qr"

	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/layers/photo/tagged"
	"panecore/layers/tag"
)

// scaleOff is the largest error of the scale within 60 mm of a tag's middle, as a share.
func scaleOff(got, want photo.Plane, sizeMM float64) (worst float64) {
	for _, off := range [][2]float64{{0, 0}, {-60, 0}, {60, 0}, {0, 60}, {0, -60}} {
		x, y := sizeMM/2+off[0], sizeMM/2+off[1]
		across, down := got.Scale(x, y)
		wantAcross, wantDown := want.Scale(x, y)
		worst = max(worst, math.Abs(across/wantAcross-1), math.Abs(down/wantDown-1))
	}
	return worst
}

func TestFind_tiltedBlurredUnevenlyLit(t *testing.T) {
	const count = 16
	r := rand.New(rand.NewPCG(16, 1))
	found := 0
	for i := range count {
		c := anyScene(r, uint64(i))
		f, why := tagged.Find(c.draw(t))
		if f == nil {
			t.Logf("%d: %v: %+v", i, why, c)
			continue
		}
		found++
		if f.Tag != c.tag {
			t.Errorf("%d: found %v, want %v", i, f.Tag, c.tag)
		}
		if off := scaleOff(f.Plane, c.plane(), c.tag.SizeMM); off > 0.01 {
			t.Errorf("%d: found the scale off by %.2f %%, want 1 at most: %+v", i, 100*off, c)
		}
		for k, corner := range tag.Corners() {
			want := c.plane().At(corner[0]*c.tag.SizeMM, corner[1]*c.tag.SizeMM)
			if off := math.Hypot(f.Corners[k].X-want.X, f.Corners[k].Y-want.Y); off > 0.8 {
				t.Errorf("%d: found corner %d off by %.2f px, want 0.8 at most", i, k, off)
			}
		}
	}
	if found < count-1 {
		t.Errorf("found %d of %d, want all but one", found, count)
	}
}

// plainScene is a tag seen straight on in even light.
func plainScene() scene {
	return scene{
		w: 480, h: 400, tag: tag.Tag{Tank: "kettle", Station: "front", SizeMM: 40}, pxPerMM: 4, at: photo.Point{X: 240, Y: 190},
		blur: 0.8, shadow: 1, noise: 0.004, quality: 90, light: [3]float64{0.9, 0.9, 0.9},
	}
}

// The tag may be turned any way, and as small as 120 pixels.
func TestFind_turnedAndSmall(t *testing.T) {
	for roll := -180.0; roll < 180; roll += 72 {
		c := plainScene()
		c.roll, c.pxPerMM, c.blur = roll, 3, 0.6
		f, why := tagged.Find(c.draw(t))
		if f == nil {
			t.Errorf("turned by %g: %v", roll, why)
			continue
		}
		if off := scaleOff(f.Plane, c.plane(), c.tag.SizeMM); f.Tag != c.tag || off > 0.01 {
			t.Errorf("turned by %g: found %v, its scale off by %.2f %%", roll, f.Tag, 100*off)
		}
	}
}

// Paper and ink are found where they are, and show the light.
func TestFind_cards(t *testing.T) {
	c := plainScene()
	c.roll, c.yaw, c.light = 30, 15, [3]float64{0.9, 0.7, 0.5}
	p := c.draw(t)
	f, why := tagged.Find(p)
	if f == nil {
		t.Fatal(why)
	}
	row := make([]picture.Light, 1)
	for i, want := range []float64{0.85, 0.05} {
		b := f.Cards[i].Box
		p.Row(row, int(b.X+b.W/2), int(b.Y+b.H/2))
		for ch, light := range c.light {
			if got := float64(row[0][ch]) / 65535; math.Abs(got-want*light) > 0.04 {
				t.Errorf("card %d, channel %d: found light %.2f in its middle, want %.2f", i, ch, got, want*light)
			}
		}
	}
}

// A tag that is not whole is not taken, and the reason is told.
func TestFind_notWhole(t *testing.T) {
	for name, test := range map[string]struct {
		change func(*scene)
		want   string
	}{
		"right half covered": {func(c *scene) { c.cover = [4]float64{0.5, -1, 2, 2} }, "a part of a tag is seen near"},
		"lower half covered": {func(c *scene) { c.cover = [4]float64{-1, 0.5, 2, 2} }, "a part of a tag is seen near"},
		"cut off":            {func(c *scene) { c.at.X = c.at.X + 215 }, "a part of a tag is seen near"},
		"a mark covered":     {func(c *scene) { c.cover = [4]float64{0.9, 0.9, 2, 2} }, "the tag of station front of tank \"kettle\" is seen, but its lower right mark is not"},
		"middle covered":     {func(c *scene) { c.cover = [4]float64{0.36, 0.36, 0.64, 0.64} }, "a code is seen near"},
		"no tag":             {func(c *scene) { c.cover = [4]float64{-9, -9, 9, 9} }, "the photo shows no glass tag"},
	} {
		c := plainScene()
		test.change(&c)
		f, why := tagged.Find(c.draw(t))
		if f != nil {
			t.Errorf("%s: found %v, want none", name, f.Tag)
			continue
		}
		if !strings.Contains(why.Error(), test.want) {
			t.Errorf("%s: found %q, want %q", name, why, test.want)
		}
	}
}

// pictureOf is a picture that was drawn.
func pictureOf(t testing.TB, img image.Image) *picture.Picture {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	p, err := picture.Decode(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestFind_twoTags(t *testing.T) {
	left, right := plainScene(), plainScene()
	both := func() *picture.Picture {
		img := image.NewRGBA(image.Rect(0, 0, 2*left.w, left.h))
		draw.Draw(img, img.Bounds(), left.canvas(t), image.Point{}, draw.Src)
		draw.Draw(img, image.Rect(left.w, 0, 2*left.w, left.h), right.canvas(t), image.Point{}, draw.Src)
		return pictureOf(t, img)
	}
	right.tag.Station = "left"
	if f, why := tagged.Find(both()); f != nil || !strings.Contains(why.Error(), "the photo shows two tags") {
		t.Errorf("two stations: found %v, %v, want it refused", f, why)
	}
	right.cover = [4]float64{0.5, -1, 2, 2}
	if f, why := tagged.Find(both()); f == nil || f.Tag != left.tag {
		t.Errorf("one whole, one half: found %v, %v, want the whole one", f, why)
	}
}

// A code of another text is not taken for a tag.
func TestFind_anotherCode(t *testing.T) {
	code, err := qr.Encode("HTTPS://EXAMPLE.ORG/KETTLE/FRONT/40", qr.M)
	if err != nil {
		t.Fatal(err)
	}
	const module = 6
	img := image.NewGray(image.Rect(0, 0, (code.Size+12)*module, (code.Size+12)*module))
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			if img.SetGray(x, y, color.Gray{Y: 230}); code.Black(x/module-6, y/module-6) {
				img.SetGray(x, y, color.Gray{Y: 30})
			}
		}
	}
	if f, why := tagged.Find(pictureOf(t, img)); f != nil || !strings.Contains(why.Error(), "a code that is no glass tag") {
		t.Errorf("found %v, %v, want it refused", f, why)
	}
}

// Whatever small picture it is, looking for a tag ends, and finds none that was not printed.
func FuzzFind(f *testing.F) {
	f.Add([]byte{1}, uint8(3))
	f.Add([]byte("a tag is black and white"), uint8(40))
	f.Fuzz(func(t *testing.T, seed []byte, width uint8) {
		side := int(width)%64 + 1
		img := image.NewGray(image.Rect(0, 0, side, side))
		for i := range img.Pix {
			if len(seed) > 0 {
				img.Pix[i] = seed[i%len(seed)] ^ uint8(i/len(seed)*37)
			}
		}
		if found, why := tagged.Find(pictureOf(t, img)); found != nil || strings.ContainsAny(why.Error(), "\n\r") {
			t.Errorf("found %v, %v, want none", found, why)
		}
	})
}
