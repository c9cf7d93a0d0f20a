package photo

import (
	"errors"
	"image"
	"image/color"
	"math"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// coloured is a picture whose pixels have the colours given.
func coloured(t *testing.T, width, height int, at func(x, y int) palette.Color) *picture.Picture {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			c := at(x, y)
			img.SetNRGBA(x, y, color.NRGBA{c.R, c.G, c.B, 255})
		}
	}
	return decoded(t, img)
}

var (
	brown    = palette.Color{R: 0x8b, G: 0x5e, B: 0x3c}
	cardGrey = palette.Linear{0.18, 0.18, 0.18}.Color()
)

// cardAndBrown has a grey card in its left half and brown in its right, both under a light
// of so much red, green and blue.
func cardAndBrown(t *testing.T, light palette.Linear) *picture.Picture {
	return coloured(t, 80, 40, func(x, _ int) palette.Color {
		c := cardGrey.Linear()
		if x >= 40 {
			c = brown.Linear()
		}
		for i := range c {
			c[i] *= light[i]
		}
		return c.Color()
	})
}

// A card of known reflectance gives the colour back, whatever the light.
func TestReadSwatch_underTintedLight(t *testing.T) {
	for _, light := range []palette.Linear{{1, 1, 1}, {1.2, 1, 0.7}, {0.5, 0.6, 0.7}} {
		p := cardAndBrown(t, light)
		s, err := ReadSwatch(p, Box{45, 5, 30, 30}, []Card{{Box{5, 5, 30, 30}, 0.18}})
		if err != nil {
			t.Fatal(err)
		}
		if d := palette.Difference(s.Color.Lab(), brown.Lab()); d > 1 || s.Spread > 1 || s.Masked != 0 || s.Cards != 1 || len(s.Warnings) > 0 {
			t.Errorf("light %v: got %v, off by %.1f: %+v", light, s.Color, d, s)
		}
	}
}

// Without the card's reflectance the hue is known and the lightness is the camera's guess.
func TestReadSwatch_lightnessNotTold(t *testing.T) {
	s, err := ReadSwatch(cardAndBrown(t, palette.Linear{0.6, 0.5, 0.35}), Box{45, 5, 30, 30}, []Card{{Box: Box{5, 5, 30, 30}}})
	if err != nil || len(s.Warnings) != 1 {
		t.Fatal(err, s.Warnings)
	}
	got, want := s.Color.Linear(), brown.Linear()
	for i := 1; i < 3; i++ {
		if ratio := got[i] / got[0] * want[0] / want[i]; math.Abs(ratio-1) > 0.03 {
			t.Errorf("channel %d over red is %.3f of what it should be", i, ratio)
		}
	}
}

// Glare is left out of the colour, and told.
func TestReadSwatch_glare(t *testing.T) {
	p := coloured(t, 100, 100, func(x, y int) palette.Color {
		if y < 30 {
			return palette.Color{R: 255, G: 255, B: 255}
		}
		return brown
	})
	s, err := ReadSwatch(p, Box{0, 0, 100, 100}, nil)
	if err != nil || s.Color != brown || math.Abs(s.Masked-0.32) > 0.03 { // the neighbours of what is burnt are left out too
		t.Errorf("got %+v, %v", s, err)
	}
	var refusal *Refusal
	if _, err := ReadSwatch(p, Box{0, 0, 100, 40}, nil); !errors.As(err, &refusal) {
		t.Errorf("under glare: got %v, want a refusal", err)
	}
}

func TestWithin_refuses(t *testing.T) {
	p := coloured(t, 100, 100, func(int, int) palette.Color { return brown })
	at := func(y float64) *float64 { return &y }
	sound := Picks{Strip: Box{10, 10, 80, 90}, SurfaceY: at(20), Ruler: Ruler{5, 0, 5, 100, 50}, Neutral: []Card{{Box: Box{0, 0, 100, 100}}}}
	if err := sound.within(p); err != nil {
		t.Errorf("up to the edges: got %v", err)
	}
	for name, spoil := range map[string]func(*Picks){
		"strip":         func(k *Picks) { k.Strip.W = 91 },
		"strip above":   func(k *Picks) { k.Strip.Y = -1 },
		"ruler":         func(k *Picks) { k.Ruler.Y2 = 101 },
		"card":          func(k *Picks) { k.Neutral = append(k.Neutral, Card{Box: Box{50, 50, 51, 10}}) },
		"strip turned":  func(k *Picks) { k.Strip.X, k.Strip.W = 120, -60 },
		"card turned":   func(k *Picks) { k.Neutral = append(k.Neutral, Card{Box: Box{50, 120, 20, -60}}) },
		"surface below": func(k *Picks) { k.SurfaceY = at(100) },
		"surface above": func(k *Picks) { k.SurfaceY = at(-1) },
	} {
		picks := sound
		spoil(&picks)
		var refusal *Refusal
		if err := picks.within(p); !errors.As(err, &refusal) || refusal.Help == "" {
			t.Errorf("%s: got %v, want a refusal that says what helps", name, err)
		}
	}
}
