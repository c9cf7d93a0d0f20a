package photo

import (
	"math"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// laidLayer is a layer of a drawn bed.
type laidLayer struct {
	mm    float64
	color palette.Color
}

// The layers of drawn beds.
var (
	laidMulm  = laidLayer{12, palette.Color{R: 0x7a, G: 0x5a, B: 0x3c}}
	laidSand  = laidLayer{40, palette.Color{R: 0xd2, G: 0xc3, B: 0x9c}}
	blackSand = laidLayer{15, palette.Color{R: 0x2c, G: 0x2b, B: 0x28}}
)

// laidBed is a picture of layers below 15 mm of water, with grains, a card and a ruler, in a light of so many stops.
func laidBed(t *testing.T, seed uint64, pxPerMM, ev float64, list ...laidLayer) (*picture.Picture, Picks) {
	t.Helper()
	const water, wide, card = 15.0, 50.0, 10.0
	deep := water
	for _, l := range list {
		deep += l.mm
	}
	grains := grain(seed, 0.5, 0.1)
	px := func(mm float64) float64 { return math.Round(mm * pxPerMM) }
	p := coloured(t, int(px(wide+card)), int(px(deep)), func(x, y int) palette.Color {
		across, down := (float64(x)+0.5)/pxPerMM, (float64(y)+0.5)/pxPerMM-water
		c := palette.Color{R: 0x70, G: 0x88, B: 0x90}
		switch {
		case across > wide:
			c = palette.Color{R: 0x77, G: 0x77, B: 0x77}
		case down >= 0:
			for _, l := range list {
				if c = shades(l.color, grains(across, down)); down < l.mm {
					break
				}
				down -= l.mm
			}
		}
		light := c.Linear()
		for ch := range light {
			light[ch] *= math.Exp2(ev)
		}
		return light.Color()
	})
	surface := px(water)
	return p, Picks{
		Strip: Box{0, px(5), px(wide), px(deep) - px(5)}, SurfaceY: &surface,
		Ruler:   Ruler{X1: 10, Y1: 0, X2: 10, Y2: px(deep), LengthMM: px(deep) / pxPerMM},
		Neutral: []Card{{Box: Box{px(wide) + 2, 2, px(card) - 4, px(deep) - 4}, Reflectance: palette.Color{R: 0x77, G: 0x77, B: 0x77}.Linear().Luminance()}},
	}
}

func sliceOf(t *testing.T, p *picture.Picture, picks Picks) *Slice {
	t.Helper()
	v, err := Look(p, picks, matcherFor(laidSand.color))
	if err != nil {
		t.Fatal(err)
	}
	return v.Slice(v.Reading, v.Reading.Core.DepthMM())
}

// A slice is to scale whatever the photo's own scale: an edge at a depth lies at that depth times the scale.
func TestSlice_toScale(t *testing.T) {
	for _, pxPerMM := range []float64{3.1, 8, 14.5} {
		p, picks := laidBed(t, 1, pxPerMM, 0, laidMulm, laidSand)
		s := sliceOf(t, p, picks)
		img := s.Image(palette.Color{})
		light := func(mm float64) (mean float64) {
			for x := range s.Width {
				mean += float64(img.RGBAAt(x, int((SliceAbove+mm)*SlicePxPerMM)).G) / float64(s.Width)
			}
			return mean
		}
		if above, below := light(-0.75), light(0.75); !(below < above-20) {
			t.Errorf("%g px per mm: %.0f above the surface and %.0f below it", pxPerMM, above, below)
		}
		if above, below := light(laidMulm.mm-0.75), light(laidMulm.mm+0.75); !(below > above+60) {
			t.Errorf("%g px per mm: %.0f above the mulm's foot and %.0f below it", pxPerMM, above, below)
		}
		if want := int(math.Round(SliceMost * SlicePxPerMM)); s.Width != want {
			t.Errorf("%g px per mm: %d px wide, want %d", pxPerMM, s.Width, want)
		}
	}
}

// A slice shows the bed's own colours, in whatever light a photo with a card was taken.
func TestSlice_sameLight(t *testing.T) {
	for _, ev := range []float64{-0.7, 0, 0.4} {
		p, picks := laidBed(t, 2, 6, ev, laidMulm, laidSand)
		s := sliceOf(t, p, picks)
		light, _ := s.mean(float64(s.Width)/2, (SliceAbove+laidMulm.mm+15)*SlicePxPerMM, 20)
		if d := palette.Difference(light.Lab(), laidSand.color.Lab()); d > 3 {
			t.Errorf("taken with %g stops more the sand is off by %.1f", ev, d)
		}
	}
}

// Between two photos of a bed that has not changed there is no change, however much lighter one is, and whichever part
// of the pane it shows.
func TestCompare_unchanged(t *testing.T) {
	p, picks := laidBed(t, 3, 6, 0, laidMulm, laidSand)
	before := sliceOf(t, p, picks)
	same := Compare(before, before)
	if same.Share != 0 || same.LightEV != 0 || !(same.Least > 0) {
		t.Errorf("a slice differs from itself: %.3f of it, %.2f stops, %.1f at least", same.Share, same.LightEV, same.Least)
	}
	for _, cards := range []int{1, 0} {
		for _, ev := range []float64{-0.1, 0.1} {
			p, picks := laidBed(t, 4, 7, ev, laidMulm, laidSand)
			picks.Neutral = picks.Neutral[:cards]
			if c := Compare(before, sliceOf(t, p, picks)); c.Share > 0.01 {
				t.Errorf("%d cards, %g stops: %.1f %% of the bed is told as changed, want none", cards, ev, 100*c.Share)
			}
		}
	}
}

// What changed is shown where it is, and as much as it did.
func TestCompare_whereItIs(t *testing.T) {
	p, picks := laidBed(t, 5, 6, 0, laidMulm, laidSand)
	before := sliceOf(t, p, picks)
	upper, lower := laidSand, laidSand
	upper.mm, lower.mm = 10, laidSand.mm-10-blackSand.mm
	p, picks = laidBed(t, 6, 7, 0, laidMulm, upper, blackSand, lower)
	c := Compare(before, sliceOf(t, p, picks))
	want := palette.Difference(laidSand.color.Lab(), blackSand.color.Lab())
	from, to := laidMulm.mm+upper.mm, laidMulm.mm+upper.mm+blackSand.mm
	for y := range c.Height {
		depth := (float64(y) + 0.5) / ChangePxPerMM
		told := 0.0
		for x := range c.Width {
			told += c.Difference[y*c.Width+x] / float64(c.Width)
		}
		switch {
		case depth > from+2 && depth < to-2:
			if math.Abs(told-want) > 0.15*want {
				t.Errorf("%.1f mm down it changed by %.0f, want %.0f", depth, told, want)
			}
		case depth < from-2 || depth > to+2:
			if told > 1 {
				t.Errorf("%.1f mm down it changed by %.0f, want nothing", depth, told)
			}
		}
	}
	if got := c.Share * float64(c.Height) / ChangePxPerMM; math.Abs(got-blackSand.mm) > 3 {
		t.Errorf("%.1f mm of it changed, want %g", got, blackSand.mm)
	}
}

// Without a card less is told: what a lamp could do is no change.
func TestCompare_doubtOfLight(t *testing.T) {
	p, picks := laidBed(t, 7, 6, 0, laidMulm, laidSand)
	carded := sliceOf(t, p, picks)
	picks.Neutral = nil
	bare := sliceOf(t, p, picks)
	if with, without := Compare(carded, carded).Least, Compare(bare, bare).Least; !(without > with+5) {
		t.Errorf("a difference is told from %.1f on with a card and from %.1f on without one", with, without)
	}
}
