package seek

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"testing"

	"panecore/layers/photo/picture"
)

// scene is a drawn picture: grains, and what is laid on them.
type scene struct {
	*image.RGBA
	dice *rand.Rand
}

func newScene(w, h int, seed uint64) *scene {
	s := &scene{image.NewRGBA(image.Rect(0, 0, w, h)), rand.New(rand.NewPCG(seed, 7))}
	for range w * h / 40 {
		s.disc(s.dice.Float64()*float64(w), s.dice.Float64()*float64(h), 3+4*s.dice.Float64(), uint8(60+s.dice.IntN(120)))
	}
	return s
}

func (s *scene) disc(x, y, r float64, v uint8) {
	for j := int(y - r); j <= int(y+r); j++ {
		for i := int(x - r); i <= int(x+r); i++ {
			if math.Hypot(float64(i)-x, float64(j)-y) <= r {
				s.SetRGBA(i, j, color.RGBA{v, uint8(float64(v) * .8), uint8(float64(v) * .6), 255})
			}
		}
	}
}

// fill colours every pixel by a function that says which part of it is covered, 0 to 1, and by what grey.
func (s *scene) fill(grey func(x, y float64) (v, cover float64)) {
	for j := range s.Rect.Dy() {
		for i := range s.Rect.Dx() {
			sum, covered := 0.0, 0.0
			if _, near := grey(float64(i)+.5, float64(j)+.5); near == 0 {
				continue
			}
			for k := range 9 {
				v, c := grey(float64(i)+float64(k%3)/3+1./6, float64(j)+float64(k/3)/3+1./6)
				sum, covered = sum+v*c/9, covered+c/9
			}
			at := s.RGBAAt(i, j)
			mix := func(c uint8) uint8 {
				return uint8(min(max(0, float64(c)*(1-covered)+sum+s.dice.NormFloat64()*3), 255))
			}
			s.SetRGBA(i, j, color.RGBA{mix(at.R), mix(at.G), mix(at.B), 255})
		}
	}
}

// ruler draws a ruler whose axis begins at a point and leans by a slope; lines has the length of each, in distances.
func (s *scene) ruler(x0, y0, lean, period, longest float64, n int, dark, light float64, length func(k int) float64) {
	norm := math.Hypot(1, lean)
	s.fill(func(x, y float64) (v, cover float64) {
		along, across := ((x-x0)*lean+(y-y0))/norm, ((x-x0)-(y-y0)*lean)/norm
		k := math.Round(along / period)
		if across < 0 || across > longest*period*2 || along < -2*period || along > (float64(n)+2)*period {
			return 0, 0
		}
		if k >= 0 && int(k) <= n && math.Abs(along-k*period) < period*.12 && across < length(int(k))*period {
			return dark, 1
		}
		return light, 1
	})
}

func (s *scene) small(t testing.TB) *Small {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, s); err != nil {
		t.Fatal(err)
	}
	p, err := picture.Decode(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return Shrink(p)
}

// ranked are lengths of lines that rise with their rank.
func ranked(base, step float64, ranks ...int) func(k int) float64 {
	return func(k int) float64 { return base + step*float64(ranks[k%len(ranks)]) }
}

// A ruler's lines give its scale to a half per cent and its unit, whatever it is divided into, however it leans and whether its
// lines are dark or light.
func TestSmall_ruler(t *testing.T) {
	millimetres := ranked(3, 1.5, 2, 0, 0, 0, 0, 1, 0, 0, 0, 0)
	sixteenths := ranked(2, 1, 4, 0, 1, 0, 2, 0, 1, 0, 3, 0, 1, 0, 2, 0, 1, 0)
	for name, c := range map[string]struct {
		period, lean, dark, light float64
		n                         int
		length                    func(int) float64
		unit                      string
		mm                        float64
	}{
		"millimetres":           {7.3, 0, 30, 230, 80, millimetres, "millimetres", 1},
		"fine millimetres":      {4.1, 0.02, 30, 230, 130, millimetres, "millimetres", 1},
		"leaning":               {8.2, 0.12, 30, 230, 70, millimetres, "millimetres", 1},
		"light lines":           {7.3, -0.05, 220, 60, 80, millimetres, "millimetres", 1},
		"a faint ruler":         {7.3, 0, 120, 170, 80, millimetres, "millimetres", 1},
		"numbers from below":    {7.3, 0, 30, 230, 80, func(k int) float64 { return millimetres(80 - k) }, "millimetres", 1},
		"no lines of five":      {7.3, 0, 30, 230, 80, ranked(3, 3, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0), "millimetres", 1},
		"sixteenths of an inch": {11.4, 0, 30, 230, 52, sixteenths, "sixteenths of an inch", 25.4 / 16},
		"eighths of an inch":    {22.7, 0, 30, 230, 26, ranked(1, .5, 3, 0, 1, 0, 2, 0, 1, 0), "eighths of an inch", 25.4 / 8},
		"half centimetres":      {37.3, 0, 30, 230, 16, ranked(.8, .6, 1, 0), "half centimetres", 5},
	} {
		s := newScene(900, 700, 1)
		s.ruler(200, 40, c.lean, c.period, 8, c.n, c.dark, c.light, c.length)
		r, found := s.small(t).Ruler()
		scale := math.Hypot(r.To.X-r.From.X, r.To.Y-r.From.Y) / r.LengthMM
		if off := scale/(c.period/c.mm) - 1; !found || r.Unit != c.unit || math.Abs(off) > .005 {
			t.Errorf("%s: found %v, %s, scale off by %.2f %%, want %s within 0.5 %%", name, found, r.Unit, 100*off, c.unit)
		}
		lean := (r.To.X - r.From.X) / (r.To.Y - r.From.Y)
		if lean = math.Atan(-lean) - math.Atan(c.lean); math.Abs(lean) > .01 && math.Abs(math.Atan(-(r.To.X-r.From.X)/(r.To.Y-r.From.Y))+math.Atan(c.lean)) > .01 {
			t.Errorf("%s: the axis leans otherwise by %.3f", name, lean)
		}
	}
}

// A ruler that lies level is found too, and its two points stand upright.
func TestSmall_levelRuler(t *testing.T) {
	s := newScene(700, 900, 2)
	s.ruler(500, 40, 0.03, 7.3, 8, 80, 30, 230, ranked(3, 1.5, 2, 0, 0, 0, 0, 1, 0, 0, 0, 0))
	turned := newScene(900, 700, 3)
	for y := range 900 {
		for x := range 700 {
			turned.SetRGBA(y, x, s.RGBAAt(x, y))
		}
	}
	r, found := turned.small(t).Ruler()
	dx, dy := r.To.X-r.From.X, r.To.Y-r.From.Y
	if scale := math.Hypot(dx, dy) / r.LengthMM; !found || !r.Level || math.Abs(scale/7.3-1) > .005 || math.Abs(dx/dy) > .06 || dy < 0 {
		t.Errorf("found %v, %+v, scale %.3f, want 7.3 upright", found, r, scale)
	}
}

// Grains alone are no ruler and no card, nor is a fence of alike boards sure to be one.
func TestSmall_nothingThere(t *testing.T) {
	s := newScene(900, 700, 4).small(t)
	if r, found := s.Ruler(); found && r.Confidence > .3 {
		t.Errorf("grains: found a ruler, %+v", r)
	}
	if c, found := s.Card(6, nil); found {
		t.Errorf("grains: found a card, %+v", c)
	}
	fence := newScene(900, 700, 5)
	fence.ruler(200, 40, 0, 30, 8, 20, 60, 160, func(int) float64 { return 8 })
	if r, found := fence.small(t).Ruler(); found && r.Confidence > .6 {
		t.Errorf("boards: found a ruler, sure to %.2f", r.Confidence)
	}
}

// A card is found where it lies, askew and in light that falls off, and the box keeps to it.
func TestSmall_card(t *testing.T) {
	for _, turn := range []float64{-.12, .08} {
		for _, level := range []float64{70, 215} {
			s := newScene(900, 700, 6)
			sin, cos := math.Sincos(turn)
			s.fill(func(x, y float64) (v, cover float64) {
				u, w := (x-600)*cos+(y-300)*sin, (y-300)*cos-(x-600)*sin
				if math.Abs(u) > 90 || math.Abs(w) > 70 {
					return 0, 0
				}
				return level * (1 + u/900), 1
			})
			c, found := s.small(t).Card(7, nil)
			x, y := c.Corner.X+c.W/2, c.Corner.Y+c.H/2
			if !found || math.Hypot(x-600, y-300) > 12 || c.W > 180 || c.W < 90 || c.H > 140 || c.H < 70 {
				t.Errorf("turned by %g, grey %g: found %v, %+v, want 180 by 140 around 600, 300", turn, level, found, c)
			}
		}
	}
}

// A spacing is told by the lengths of lines, some of them hidden, from any line on.
func TestTellUnit(t *testing.T) {
	dice := rand.New(rand.NewPCG(8, 9))
	wrong, all := 0, 0
	for _, s := range spacings() {
		if s.sure < .9 {
			continue
		}
		for from := range len(s.ranks) {
			var lengths []float64
			for k := range 3 * len(s.ranks) {
				l := 2 * math.Pow(1.4, float64(s.ranks[(k+from)%len(s.ranks)])) * math.Exp(.03*dice.NormFloat64())
				if dice.IntN(12) == 0 {
					l = 0
				}
				lengths = append(lengths, l)
			}
			all++
			if got, sure := tellUnit(lengths, lengths, usualAcross/s.mm); got.mm != s.mm || sure < .5 {
				t.Logf("%s from line %d: told as %s, sure to %.2f", s.name, from, got.name, sure)
				wrong++
			}
		}
	}
	if 25*wrong > all {
		t.Errorf("%d of %d are told wrong, want one in 25 at most", wrong, all)
	}
}

// Whatever the picture, nothing but a ruler of some length and a card inside the picture is found.
func FuzzSmall(f *testing.F) {
	f.Add(uint16(400), uint16(300), uint64(1), uint8(3))
	f.Add(uint16(1), uint16(700), uint64(2), uint8(9))
	f.Add(uint16(700), uint16(1), uint64(3), uint8(1))
	f.Fuzz(func(t *testing.T, w, h uint16, seed uint64, period uint8) {
		width, height := 1+int(w)%700, 1+int(h)%700
		img := image.NewGray(image.Rect(0, 0, width, height))
		dice := rand.New(rand.NewPCG(seed, 1))
		for i := range img.Pix {
			if i/width%(2+int(period)%40) == 0 || dice.IntN(9) == 0 {
				img.Pix[i] = uint8(dice.IntN(256))
			}
		}
		var b bytes.Buffer
		if err := png.Encode(&b, img); err != nil {
			t.Fatal(err)
		}
		p, err := picture.Decode(b.Bytes())
		if err != nil {
			return
		}
		s := Shrink(p)
		r, found := s.Ruler()
		if found && !(r.LengthMM > 0 && r.Confidence > 0 && r.Confidence <= 1) {
			t.Errorf("found %+v", r)
		}
		ruler := &r
		if !found {
			ruler = nil
		}
		if c, seen := s.Card(5, ruler); seen && !(c.W > 0 && c.H > 0 && c.Corner.X >= 0 && c.Corner.Y >= 0 && c.Corner.X+c.W <= float64(width) && c.Corner.Y+c.H <= float64(height)) {
			t.Errorf("found %+v in %d x %d", c, width, height)
		}
	})
}
