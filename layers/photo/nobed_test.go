package photo

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"panecore/palette"
)

// shades are a colour so many times as light, between black and white.
func shades(c palette.Color, by float64) palette.Color {
	scale := func(v uint8) uint8 { return uint8(min(max(float64(v)*by, 0), 255)) }
	return palette.Color{R: scale(c.R), G: scale(c.G), B: scale(c.B)}
}

// grain is a random lightness about 1 for each cell of so many mm, with a spread.
func grain(seed uint64, mm, spread float64) func(x, y float64) float64 {
	rng := rand.New(rand.NewPCG(seed, 5))
	var cells [256 * 256]float64
	for i := range cells {
		cells[i] = 1 + spread*rng.NormFloat64()
	}
	return func(x, y float64) float64 {
		return cells[int(y/mm)%256*256+int(x/mm)%256]
	}
}

// pebbles are a colour for each of many discs of up to so many mm that cover everything, darker toward
// their rims.
func pebbles(seed uint64, mm float64, colors ...palette.Color) func(x, y float64) palette.Color {
	rng := rand.New(rand.NewPCG(seed, 6))
	type pebble struct {
		x, y, r float64
		color   palette.Color
	}
	list := make([]pebble, 400)
	for i := range list {
		list[i] = pebble{60 * rng.Float64(), 80 * rng.Float64(), mm * (0.5 + 0.5*rng.Float64()), shades(colors[rng.IntN(len(colors))], 0.6+0.6*rng.Float64())}
	}
	return func(x, y float64) palette.Color {
		for _, p := range list {
			if d := math.Hypot(x-p.x, y-p.y) / p.r; d < 1 {
				return shades(p.color, 1-0.7*d*d)
			}
		}
		return palette.Color{R: 12, G: 11, B: 10}
	}
}

// scenery are pictures of 60 x 80 mm without a bed, by what they show at a place in mm.
func scenery() map[string]func(x, y float64) palette.Color {
	sky, meadow := palette.Color{R: 90, G: 150, B: 220}, palette.Color{R: 70, G: 120, B: 50}
	skin, cloth, plaster := palette.Color{R: 222, G: 172, B: 150}, palette.Color{R: 120, G: 60, B: 140}, palette.Color{R: 200, G: 195, B: 185}
	pine, ink, teal := palette.Color{R: 150, G: 98, B: 55}, palette.Color{R: 30, G: 30, B: 35}, palette.Color{R: 60, G: 110, B: 160}
	fine, coarse, rough := grain(1, 0.4, 0.06), grain(2, 0.6, 0.25), grain(3, 3, 0.2)
	gravel := pebbles(4, 7, palette.Color{R: 150, G: 130, B: 100}, palette.Color{R: 110, G: 105, B: 100}, palette.Color{R: 90, G: 60, B: 45})
	foliage := pebbles(7, 9, meadow, palette.Color{R: 110, G: 160, B: 60})
	bricks := pebbles(8, 6, palette.Color{R: 150, G: 75, B: 55}, palette.Color{R: 60, G: 50, B: 48})
	return map[string]func(x, y float64) palette.Color{
		"sky":    func(x, y float64) palette.Color { return shades(sky, 0.7+0.006*y) },
		"clouds": func(x, y float64) palette.Color { return shades(sky, rough(x, y)) },
		"a landscape": func(x, y float64) palette.Color {
			return shades(map[bool]palette.Color{true: sky, false: meadow}[y < 40], coarse(x, y))
		},
		"skin": func(x, y float64) palette.Color {
			return shades(skin, (1.05-0.004*y-0.0002*(x-20)*(x-20))*fine(x, y))
		},
		"a violet cloth": func(x, y float64) palette.Color { return shades(cloth, (0.8+0.2*math.Sin(y/4))*coarse(x, y)) },
		"a wall under a lamp": func(x, y float64) palette.Color {
			return shades(plaster, 1.1*math.Exp(-0.0006*((x-30)*(x-30)+(y-10)*(y-10))))
		},
		"a wall": func(x, y float64) palette.Color { return shades(plaster, (0.9-0.004*y)*fine(x, y)) },
		"dark wood": func(x, y float64) palette.Color {
			return shades(pine, (0.5+0.15*math.Sin(2*x+math.Sin(y/9)))*fine(x, y))
		},
		"one gravel": func(x, y float64) palette.Color { // under a lamp from above
			across, down := (x-30)/34, (y-45)/38
			return shades(palette.Color{R: 170, G: 125, B: 80}, 0.1+0.9*max(0, math.Sqrt(max(0, 1-across*across-down*down))-0.6*down))
		},
		"a heap of gravel": gravel,
		"leaves":           foliage,
		"rubble":           bricks,
		"books": func(x, y float64) palette.Color {
			return []palette.Color{plaster, teal, pine, cloth, ink, skin, teal, pine}[int(y/10)%8]
		},
		"a blue rug": func(x, y float64) palette.Color { return shades(teal, coarse(x, y)) },
		"a bed": func(x, y float64) palette.Color {
			bed := palette.Color{R: 190, G: 165, B: 120}
			switch depth := y - 14 + math.Sin(x/6); {
			case depth > 40:
				bed = palette.Color{R: 45, G: 42, B: 40}
			case depth > 30:
				bed = palette.Color{R: 150, G: 95, B: 50}
			case depth < 0:
				return palette.Color{R: 205, G: 210, B: 205}
			}
			return shades(bed, 1+(coarse(x, y)-1)/2)
		},
	}
}

// Of pictures without a bed nine tenths are refused or flagged; a bed drawn the same way is neither.
func TestLook_noBed(t *testing.T) {
	const px = 5 // pixels per mm
	caught, all := 0, 0
	for name, at := range scenery() {
		p := coloured(t, 80*px, 80*px, func(x, y int) palette.Color {
			if x > 62*px && y > 60*px {
				return palette.Color{R: 118, G: 118, B: 118} // the grey card
			}
			return at(float64(x%(60*px))/px, float64(y)/px)
		})
		surface := 14.0 * px
		picks := Picks{
			Strip: Box{10 * px, 6 * px, 40 * px, 70 * px}, SurfaceY: &surface, Neutral: []Card{{Box: Box{65 * px, 63 * px, 12 * px, 12 * px}}},
			Ruler: Ruler{70 * px, 0, 70 * px, 50 * px, 50},
		}
		v, err := Look(p, picks, matcherFor(palette.Color{R: 190, G: 165, B: 120}))
		refusal := (*Refusal)(nil)
		if err != nil && !errors.As(err, &refusal) {
			t.Fatalf("%s: %v", name, err)
		}
		if name == "a bed" {
			if err != nil || !v.Reading.Reliable || len(v.Reading.Names) != 3 {
				t.Errorf("a bed: %v, %+v", err, v)
			}
			continue
		}
		all++
		if err != nil || !v.Reading.Reliable {
			caught++
		} else {
			t.Logf("%s: read as %v", name, v.Reading.Names)
		}
	}
	if float64(caught) < 0.9*float64(all) {
		t.Errorf("%d of %d pictures without a bed refused or flagged, want nine tenths", caught, all)
	}
}
