package photo

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// A balance is a row of testdata/checks/whitebalance.csv.
type balance struct {
	name                      string
	cards                     []palette.Color
	reflectance               []float64 // of each card; zero: not told
	input, rgb                palette.Color
	gain, offset, linear, lab [3]float64
}

func readBalances(t *testing.T) (list []balance) {
	t.Helper()
	file, err := os.Open("../../testdata/checks/whitebalance.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	numbers := func(text string) (n [3]float64) {
		if _, err := fmt.Sscan(text, &n[0], &n[1], &n[2]); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		return n
	}
	rgb := func(text string) palette.Color {
		n := numbers(text)
		return palette.Color{R: uint8(n[0]), G: uint8(n[1]), B: uint8(n[2])}
	}
	for _, row := range rows[1:] {
		b := balance{
			name: row[0] + ", " + row[1], input: rgb(row[4]), gain: numbers(row[5]), offset: numbers(row[6]),
			linear: numbers(row[7]), rgb: rgb(row[8]), lab: numbers(row[9]),
		}
		lightness := strings.Fields(row[3])
		for i, card := range strings.Split(row[2], ";") {
			b.cards = append(b.cards, rgb(card))
			y := 0.0
			if len(lightness) > 0 {
				var l float64
				if _, err := fmt.Sscan(lightness[i], &l); err != nil {
					t.Fatal(err)
				}
				y = math.Pow((l+16)/116, 3) // CIE 15:2004
			}
			b.reflectance = append(b.reflectance, y)
		}
		list = append(list, b)
	}
	return list
}

// The correction's numbers are those of the worked examples, to the digits printed.
func TestCorrection_workedExamples(t *testing.T) {
	list := readBalances(t)
	if len(list) != 5 {
		t.Errorf("found %d examples, want 5", len(list))
	}
	for _, b := range list {
		var greys []grey
		for i, card := range b.cards {
			greys = append(greys, grey{card.Linear(), b.reflectance[i]})
		}
		c := &correction{gain: palette.Linear{1, 1, 1}}
		c.fit(greys)
		got := c.apply(b.input.Linear())
		near(t, b.name+": gain", c.gain, b.gain, 1e-5)
		near(t, b.name+": offset", c.offset, b.offset, 1e-5)
		near(t, b.name+": linear light", got, b.linear, 1e-6)
		lab := got.Lab()
		near(t, b.name+": Lab", [3]float64{lab.L, lab.A, lab.B}, b.lab, 0.01) // the library's white differs in the fifth digit
		if got.Color() != b.rgb {
			t.Errorf("%s: %v, want %v", b.name, got.Color(), b.rgb)
		}
	}
}

func near(t *testing.T, name string, got, want [3]float64, tolerance float64) {
	t.Helper()
	for i := range got {
		if !(math.Abs(got[i]-want[i]) <= tolerance) { // NaN is near to nothing
			t.Errorf("%s: %v, want %v to within %g", name, got, want, tolerance)
			return
		}
	}
}

// flat is a box of one colour.
type flat struct {
	image.Rectangle
	color palette.Color
}

// painted is a picture with a background and flat boxes on it, painted one after the other.
func painted(t testing.TB, width, height int, boxes ...flat) *picture.Picture {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	for i := range img.Pix {
		img.Pix[i] = 255
		if i%4 < 3 {
			img.Pix[i] = 100
		}
	}
	for _, box := range boxes {
		c := color.NRGBA{box.color.R, box.color.G, box.color.B, 255}
		for y := box.Min.Y; y < box.Max.Y; y++ {
			for x := box.Min.X; x < box.Max.X; x++ {
				img.SetNRGBA(x, y, c)
			}
		}
	}
	return decoded(t, img)
}

// decoded is a picture that went through a file.
func decoded(t testing.TB, img image.Image) *picture.Picture {
	t.Helper()
	var file bytes.Buffer
	if err := png.Encode(&file, img); err != nil {
		t.Fatal(err)
	}
	p, err := picture.Decode(file.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Read off a picture the examples come out the same, but for what the picture's 16 bits of linear light
// round away: half a step of the card's darkest channel.
func TestReadSwatch_workedExamples(t *testing.T) {
	for _, b := range readBalances(t) {
		boxes := []flat{{image.Rect(10, 60, 90, 90), b.input}}
		var cards []Card
		darkest := 1.0
		for i, card := range b.cards {
			boxes = append(boxes, flat{image.Rect(10+50*i, 10, 50+50*i, 50), card})
			cards = append(cards, Card{Box{float64(10 + 50*i), 10, 40, 40}, b.reflectance[i]})
			linear := card.Linear()
			darkest = min(darkest, slices.Min(linear[:]))
		}
		s, err := ReadSwatch(painted(t, 220, 100, boxes...), Box{12, 62, 70, 25}, cards)
		if err != nil {
			t.Errorf("%s: %v", b.name, err)
			continue
		}
		near(t, b.name+": gain", s.Gain, b.gain, slices.Max(b.gain[:])*2*0.5/65535/darkest+1e-5)
		if s.Color != b.rgb || s.Cards != len(cards) || s.Masked != 0 || s.Spread > 0.5 { // the spread is what rounding to 8 bits leaves
			t.Errorf("%s: %v by %d cards, %.2f masked, spread %.3f, want %v", b.name, s.Color, s.Cards, s.Masked, s.Spread, b.rgb)
		}
		if tinted := slices.Max(b.gain[:]) > 2*slices.Min(b.gain[:]); tinted != told(s.Warnings, "strongly coloured") {
			t.Errorf("%s: warned %q", b.name, s.Warnings)
		}
	}
}

func told(warnings []string, part string) bool {
	return slices.ContainsFunc(warnings, func(w string) bool { return strings.Contains(w, part) })
}

// A card that would mislead is left out, and why is said.
func TestCorrection_cardFaults(t *testing.T) {
	grey := func(v uint8) palette.Color { return palette.Color{R: v, G: v, B: v} }
	card := func(c palette.Color) flat { return flat{image.Rect(10, 10, 70, 60), c} }
	whole := Box{10, 10, 60, 50}
	for name, test := range map[string]struct {
		boxes []flat
		box   Box
		want  string // part of the warning; empty: the card serves
	}{
		"even":                     {[]flat{card(grey(160))}, whole, ""},
		"a speck of dust":          {[]flat{card(grey(160)), {image.Rect(30, 30, 33, 33), grey(40)}}, whole, ""},
		"burnt":                    {[]flat{card(grey(251))}, whole, "100 % of its pixels are over- or under-exposed"},
		"burnt in one channel":     {[]flat{card(palette.Color{R: 252, G: 180, B: 170})}, whole, "over- or under-exposed"},
		"a corner burnt":           {[]flat{card(grey(160)), {image.Rect(30, 20, 45, 40), grey(255)}}, whole, "over- or under-exposed"},
		"drowned in one channel":   {[]flat{card(palette.Color{R: 80, G: 60, B: 4})}, whole, "over- or under-exposed"},
		"in half shade":            {[]flat{card(grey(160)), {image.Rect(10, 10, 40, 60), grey(120)}}, whole, "uneven by"},
		"in the dark":              {[]flat{card(grey(20))}, whole, "too dark"},
		"a few pixels":             {[]flat{card(grey(160))}, Box{10, 10, 9, 9}, "its box holds 49 pixels"},
		"less than a pixel":        {[]flat{card(grey(160))}, Box{10, 10, 0.4, 50}, "its box holds 0 pixels"},
		"a gradient below a tenth": {shaded(150, 160), whole, ""},
		"a gradient above a tenth": {shaded(110, 170), whole, "uneven by"},
	} {
		c, err := newCorrection(painted(t, 80, 70, test.boxes...), []Card{{Box: test.box}})
		switch {
		case err != nil:
			t.Errorf("%s: %v", name, err)
		case test.want == "" && (c.cards != 1 || len(c.warnings) > 0):
			t.Errorf("%s: left out: %q", name, c.warnings)
		case test.want != "" && (c.cards != 0 || len(c.warnings) != 1 || !strings.Contains(c.warnings[0], test.want)):
			t.Errorf("%s: %d cards, warned %q, want %q", name, c.cards, c.warnings, test.want)
		}
	}
}

// shaded is the card with its grey rising from left to right.
func shaded(from, to int) (boxes []flat) {
	for x := 10; x < 70; x++ {
		v := uint8(from + (to-from)*(x-10)/59)
		boxes = append(boxes, flat{image.Rect(x, 10, x+1, 60), palette.Color{R: v, G: v, B: v}})
	}
	return boxes
}

// Light is warned of from a ratio of 2 between the card's channels, and refused from 4.
func TestCorrection_tint(t *testing.T) {
	for _, test := range []struct {
		ratio           float64
		warned, refused bool
	}{{1.05, false, false}, {1.9, false, false}, {2.1, true, false}, {3.9, true, false}, {4.5, false, true}} {
		red := 0.6
		card := palette.Linear{red, 0.4, red / test.ratio}.Color()
		c, err := newCorrection(painted(t, 80, 70, flat{image.Rect(10, 10, 70, 60), card}), []Card{{Box: Box{10, 10, 60, 50}}})
		if (err != nil) != test.refused {
			t.Errorf("ratio %.2f: %v", test.ratio, err)
			continue
		}
		if err == nil && told(c.warnings, "strongly coloured") != test.warned {
			t.Errorf("ratio %.2f: warned %q", test.ratio, c.warnings)
		}
	}
}

// Greys that no stray light could make so are balanced without an offset, and those whose
// lightness is told outweigh those whose isn't.
func TestCorrection_fallsBack(t *testing.T) {
	dark, light := palette.Linear{0.2, 0.2, 0.2}, palette.Linear{0.4, 0.4, 0.4}
	c := &correction{}
	c.fit([]grey{{dark, 0.1}, {light, 0.4}}) // on a line that meets zero at -0.2
	if want := (0.2*0.1 + 0.4*0.4) / (0.2*0.2 + 0.4*0.4); c.offset != (palette.Linear{}) || math.Abs(c.gain[0]-want) > 1e-12 {
		t.Errorf("gain %v and offset %v, want %g and none", c.gain, c.offset, want)
	}
	c = &correction{}
	c.fit([]grey{{dark, 0.36}, {palette.Linear{0.5, 0.4, 0.3}, 0}})
	if !c.exposed || math.Abs(c.gain[0]-1.8) > 1e-12 || math.Abs(c.gain[2]-1.8) > 1e-12 {
		t.Errorf("gain %v, want 1.8: only one card's lightness is told", c.gain)
	}
}

// noisyGrey is a picture of grey with independent noise in each pixel.
func noisyGrey(t *testing.T, deviation float64) *picture.Picture {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, 300, 300))
	r := rand.New(rand.NewPCG(1, 2))
	for i := range img.Pix {
		img.Pix[i] = uint8(min(max(math.Round(150+deviation*r.NormFloat64()), 0), 255))
	}
	var file bytes.Buffer
	if err := png.Encode(&file, img); err != nil {
		t.Fatal(err)
	}
	return decodedFile(t, file.Bytes())
}

// A patch of 10 x 10 pixels is enough, and the doubt says how much less it tells than a large
// one: with the noise, and with the root of the pixels that are left out.
func TestReadPatch_small(t *testing.T) {
	p := noisyGrey(t, 6)
	for side, usable := range map[float64]bool{9: false, 10: true, 30: true, 250: true} {
		patch := readPatch(p, Box{20, 20, side, side})
		if reason := patch.unusable(); (reason == "") != usable {
			t.Errorf("%g pixels: %q", side, reason)
		}
	}
	small, large, noisy := readPatch(p, Box{20, 20, 10, 10}), readPatch(p, Box{20, 20, 250, 250}), readPatch(noisyGrey(t, 12), Box{20, 20, 10, 10})
	if got := small.doubt / large.doubt; got < 15 || got > 35 { // 8 pixels a side beside 200: 25
		t.Errorf("the small patch is %.1f times less sure than the large one, want 25", got)
	}
	if got := noisy.doubt / small.doubt; got < 1.5 || got > 2.5 {
		t.Errorf("twice the noise makes a patch %.1f times less sure, want 2", got)
	}
	light := func(side float64) *correction {
		c, err := newCorrection(p, []Card{{Box: Box{20, 20, side, side}, Reflectance: 0.18}})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	if a, b := light(10), light(250); a.doubt() <= b.doubt() || a.unknown().EVDoubt <= b.unknown().EVDoubt || math.Abs(b.doubt()-palette.DoubtCard) > 0.001 {
		t.Errorf("doubts %.4f and %.4f, in stops %.4f and %.4f", a.doubt(), b.doubt(), a.unknown().EVDoubt, b.unknown().EVDoubt)
	}
}

// The stated error of small patches holds what their means do over many of them.
func TestReadPatch_doubtHolds(t *testing.T) {
	p := noisyGrey(t, 6)
	whole := readPatch(p, Box{0, 0, 300, 300}).light
	var squares, stated, n float64
	for y := 0.; y < 300; y += 10 {
		for x := 0.; x < 300; x += 10 {
			patch := readPatch(p, Box{x, y, 10, 10})
			off := patch.light[0]/whole[0] - 1
			squares, stated, n = squares+off*off, stated+patch.doubt, n+1
		}
	}
	// Their pixels are independent, where those of a photo are taken to be in fours: stated is twice.
	if got := stated / n / math.Sqrt(squares/n); got < 1.7 || got > 2.5 {
		t.Errorf("the stated error is %.2f times the true one, want 2", got)
	}
}
