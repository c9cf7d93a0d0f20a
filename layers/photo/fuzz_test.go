package photo

import (
	"errors"
	"image"
	"math"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// smallPictures are a rendered bed of a few thousand pixels and flat layers, with picks that
// fit each.
func smallPictures(f *testing.F) (pictures [2]*picture.Picture, picks [2]Picks) {
	s := sceneNamed(f, "middling-02")
	s.Orientation = 1
	const by = 0.12
	s.Width, s.Height, s.PxPerMM = int(by*float64(s.Width)), int(by*float64(s.Height)), by*s.PxPerMM
	photo := s.Render()
	pictures[0], picks[0] = decodedFile(f, photo.JPEG), picksOf(photo.Truth)
	pictures[1] = painted(f, 120, 100,
		flat{image.Rect(0, 30, 120, 45), palette.Color{R: 110, G: 80, B: 50}}, flat{image.Rect(0, 45, 120, 60), palette.Color{R: 170, G: 100, B: 50}},
		flat{image.Rect(0, 60, 120, 80), palette.Color{R: 40, G: 38, B: 36}}, flat{image.Rect(0, 80, 120, 100), palette.Color{R: 215, G: 200, B: 165}},
		flat{image.Rect(2, 2, 24, 24), palette.Color{R: 160, G: 160, B: 160}})
	surface := 30.0
	picks[1] = Picks{Strip: Box{30, 10, 60, 88}, SurfaceY: &surface, Ruler: Ruler{110, 5, 110, 95, 45}, Neutral: []Card{{Box: Box{3, 3, 20, 20}}}}
	return pictures, picks
}

// Whatever is marked on a photo, there comes a reading that hangs together or a refusal, and the
// same when edges are moved by so many millimetres.
func FuzzRead(f *testing.F) {
	pictures, picks := smallPictures(f)
	for i, p := range picks {
		b, r, c := p.Strip, p.Ruler, p.Neutral[0].Box
		add := func() {
			f.Add(i == 1, false, b.X, b.Y, b.W, b.H, *p.SurfaceY, r.X1, r.Y1, r.X2, r.Y2, r.LengthMM, c.X, c.Y, c.W, c.H, 0.0, 1.5)
		}
		add()
		b.H = 3
		add()
		b = Box{0, 0, float64(pictures[i].Width), float64(pictures[i].Height)}
		add()
		c.X = 1e9
		add()
		c, r.X2 = p.Neutral[0].Box, r.X2+20
		add()
		b, r = Box{b.W - 1, b.H - 1, 1, 1}, p.Ruler
		add()
		b = Box{float64(pictures[i].Width) + 30, 30, -30, 10} // turned inside out, beside the picture
		add()
	}
	f.Add(false, false, math.NaN(), math.Inf(1), -1.0, 1e308, math.NaN(), 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, -5.0, math.Inf(-1), 0.5, math.NaN())
	f.Add(false, true, 1.75, 6330.0, 54.0, 5.000065e+06, 526.0, 10.0, 24.0, 12.0, 22.0/3, 30.0/7, 0.6, 46.5, 20.0, 5.0/3, 0.18, -0.7) // edges lean out of the strip
	f.Add(true, true, 7.0, 700.0, 33.0, 1e6, 50.0, 10.0, 4.0, 12.0, 99.0, 30.0, 3.0, 3.0, 20.0, 20.0, 0.18, 1e9)
	matchers := []*palette.Matcher{matcherFor(palette.Color{R: 215, G: 200, B: 165}), palette.NewMatcher(nil, nil)}
	f.Fuzz(func(t *testing.T, painted, fold bool, x, y, w, h, surface, x1, y1, x2, y2, mm, cx, cy, cw, ch, reflectance, moved float64) {
		if !(reflectance >= 0 && reflectance <= 1) { // what the command lets through
			t.Skip()
		}
		p, own := pictures[0], picks[0]
		if painted {
			p, own = pictures[1], picks[1]
		}
		if fold { // into the picture, that most get further than its edges
			wide, high := float64(p.Width), float64(p.Height)
			x, y, cx, cy, surface = inside(x, wide), inside(y, high), inside(cx, wide), inside(cy, high), inside(surface, high)
			w, h, cw, ch = inside(w, wide-x), inside(h, high-y), inside(cw, wide-cx), inside(ch, high-cy)
		}
		marked := Picks{
			Strip: Box{x, y, w, h}, SurfaceY: &surface, Ruler: Ruler{x1, y1, x2, y2, mm},
			Neutral: []Card{{Box{cx, cy, cw, ch}, reflectance}, own.Neutral[0]},
		}
		for _, m := range matchers {
			v, err := Look(p, marked, m)
			var refusal *Refusal
			switch {
			case err == nil:
				checkWhole(t, v.Reading, marked)
				cuts := cutsOf(v.Reading)
				for i := range cuts {
					cuts[i].BottomMM += moved * float64(1-i%3)
				}
				cuts[0].Bend = evenly(moved)
				cuts[0].Bend[1] = nil
				if r, err := v.Recut(Cut{BottomMM: moved / 4}, cuts); err == nil {
					checkWhole(t, r, marked)
				}
			case !errors.As(err, &refusal) || refusal.Reason == "" || refusal.Help == "":
				t.Errorf("got %v, want a refusal with a reason and what would help", err)
			}
		}
		s, err := ReadSwatch(p, marked.Strip, marked.Neutral)
		var refusal *Refusal
		switch {
		case err == nil:
			finite(t, "swatch", s.Spread, s.Masked, s.Gain[0], s.Gain[1], s.Gain[2])
		case !errors.As(err, &refusal):
			t.Errorf("swatch: got %v, want a refusal", err)
		}
	})
}

// inside folds a number into 0 to end.
func inside(v, end float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return math.Mod(math.Abs(v), end)
}
