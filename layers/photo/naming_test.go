package photo

import (
	"image"
	"math"
	"slices"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// The middle of columns is none's, one's own, and of many not moved by one that lies far off.
func TestMiddleLight(t *testing.T) {
	grey := func(v float64) palette.Linear { return palette.Linear{v, v, v} }
	for _, c := range []struct {
		columns []palette.Linear
		want    palette.Linear
	}{
		{nil, grey(0)},
		{[]palette.Linear{grey(0.2)}, grey(0.2)},
		{[]palette.Linear{grey(0.4), grey(0.2)}, grey(0.3)},
		{[]palette.Linear{grey(0.9), grey(0.2), grey(0.3)}, grey(0.3)},
		{[]palette.Linear{{0.1, 0.5, 0.9}, {0.3, 0.1, 0.8}, {0.2, 0.2, 0.1}}, palette.Linear{0.2, 0.2, 0.8}},
	} {
		near(t, "middle", middleLight(c.columns), c.want, 1e-12)
	}
}

// The variance of a layer's mean colour falls as one over the number of its columns, three of which count
// as one: of columns one unit of CIELAB to either side it is a third of 1/(n/3) a direction, and lightness
// counts by half.
func TestMeanVariance(t *testing.T) {
	columns := func(n int, off palette.Lab) (list []palette.Linear) {
		for i := range n {
			sign := float64(1 - 2*(i%2))
			list = append(list, palette.Lab{L: 50 + sign*off.L, A: 10 + sign*off.A, B: 20 + sign*off.B}.Linear())
		}
		return list
	}
	for _, c := range []struct {
		n    int
		off  palette.Lab
		want float64
	}{
		{0, palette.Lab{}, 0}, {1, palette.Lab{A: 1}, 0}, // which tells nothing of a spread
		{6, palette.Lab{}, 0},
		{6, palette.Lab{A: 1}, 1.0 / 6}, {24, palette.Lab{A: 1}, 1.0 / 24}, {6, palette.Lab{B: 2}, 4.0 / 6},
		{6, palette.Lab{L: 2}, 1.0 / 6},
		{6, palette.Lab{L: 2, A: 1, B: 1}, 3.0 / 6},
	} {
		if got := meanVariance(columns(c.n, c.off)); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%d columns %v to either side: %.4f, want %.4f", c.n, c.off, got, c.want)
		}
	}
}

// straight is what a straight edge says against its layers being one.
const straight = -2 * raggedVote

// Two layers alike in colour and grain, with a straight edge between them, and what each difference costs: of
// hue as a normal density does, of grain, and nothing joins what is hidden. A ragged edge speaks for one layer.
func TestSameLayer(t *testing.T) {
	s := rampField(0)
	s.kappa = 1
	layer := func(lab palette.Lab) bedLayer {
		return bedLayer{top: 0, bottom: 1, light: lab.Linear(), seen: 1, texture: 4}
	}
	one := layer(palette.Lab{L: 50, A: 5, B: 20})
	if got := s.sameLayer(one, one); math.Abs(got-straight) > 1e-9 {
		t.Errorf("alike: %g, want %g", got, straight)
	}
	fine, coarse, coarser := one, one, one
	fine.grain, coarse.grain, coarser.grain = palette.Texture{Contrast: 0.3, Fineness: 1}, palette.Texture{Contrast: 0.6, Fineness: 1}, palette.Texture{Contrast: 0.9, Fineness: 1}
	alike, unlike, more := s.sameLayer(fine, fine), s.sameLayer(fine, coarse), s.sameLayer(coarser, fine)
	if !(alike > straight && straight > unlike && unlike > more) {
		t.Errorf("grain alike %g, unknown %g, unlike %g, more unlike %g: want them to fall", alike, straight, unlike, more)
	}
	for _, deviations := range []float64{1, 2} {
		rougher := one
		rougher.texture *= math.Exp(textureSpread * deviations)
		if got, want := s.sameLayer(one, rougher), straight-deviations*deviations/2; math.Abs(got-want) > 1e-9 {
			t.Errorf("a texture %g deviations rougher: %g, want %g", deviations, got, want)
		}
	}
	other := layer(palette.Lab{L: 50, A: 7, B: 20})
	d := palette.Difference(one.light.Lab(), other.light.Lab())
	if got, want := s.sameLayer(one, other), straight-d*d/2; math.Abs(got-want) > 0.05 { // their luminance differs in the third digit
		t.Errorf("redder by %.2f CIEDE2000: %g, want %g", d, got, want)
	}
	unsure := other
	unsure.variance = 3 // its columns differ: four times the variance in all
	if got, want := s.sameLayer(one, unsure), straight-d*d/8-1.5*math.Log(4); math.Abs(got-want) > 0.05 {
		t.Errorf("redder and unsure: %g, want %g", got, want)
	}
	hidden := one
	hidden.seen = 0
	if got := s.sameLayer(one, hidden); got >= leastSame {
		t.Errorf("hidden: %g, want less than %g", got, leastSame)
	}
}

// The lightness of a thick layer counts by half of its step, more of it where the step is sharp, and that of one
// thin beside grains not at all.
func TestSameLayer_shade(t *testing.T) {
	one := bedLayer{top: 0, bottom: 1, light: palette.Lab{L: 60, A: 5, B: 20}.Linear(), seen: 1, texture: 1}
	under := func(light float64) bedLayer {
		darker := one
		for c := range darker.light {
			darker.light[c] *= light
		}
		return darker
	}
	sharp, soft := rampField(0), rampField(1.2)
	sharp.kappa = 100 // grains as large as the layer is thick
	if got := sharp.sameLayer(one, under(0.6)); math.Abs(got-straight) > 1e-6 {
		t.Errorf("thin beside grains: %g, want %g, as it may be shade", got, straight)
	}
	sharp.kappa = 1
	for name, c := range map[string]struct {
		edge           *strata
		light, counted float64 // of the step
	}{
		"soft":       {soft, 0.6, math.Sqrt(0.6)},
		"sharp":      {sharp, 0.6, 0.6 * math.Exp(mostShade)},
		"small step": {sharp, 0.8, math.Sqrt(0.8)},
	} {
		d := palette.Difference(one.light.Lab(), under(c.counted).light.Lab())
		if got, want := c.edge.sameLayer(one, under(c.light)), straight-d*d/2; math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: %g, want %g, of part of the step in lightness", name, got, want)
		}
	}
}

// Where no edge lies near the click one is set there, below those that stay and above what lies deeper,
// in every block.
func TestSetSurface_noneNear(t *testing.T) {
	for _, c := range []struct {
		click float64
		want  []float64
	}{
		{10, []float64{10, 50, 56}}, // eight millimetres above
		{90, []float64{90}},
		{51, []float64{50, 56}}, // on an edge: that is the surface
		{57, []float64{56}},
	} {
		f, w := wavyField(100, 24)
		s := &strata{field: f, warp: w}
		s.looks = f.looks(w)
		if s.setSurface(c.click); !slices.Equal(s.level, c.want) {
			t.Errorf("clicked on row %g: edges at %g, want %g", c.click, s.level, c.want)
			continue
		}
		if len(s.looks) != len(s.level)+1 || !s.looks[0].behind || s.looks[1].behind {
			t.Errorf("clicked on row %g: %d looks of %d edges, water first: %t", c.click, len(s.looks), len(s.level), s.looks[0].behind)
		}
		for b, at := range s.at {
			if len(at) != len(c.want) || !slices.IsSorted(at) {
				t.Errorf("clicked on row %g: edges of block %d at %g", c.click, b, at)
			}
		}
	}
}

// An edge set among traced ones keeps its row where it can, and never crosses them.
func TestInsert_keepsOrder(t *testing.T) {
	f, w := wavyField(100, 24)
	s := &strata{field: f, warp: w}
	s.insert(1, 53)
	for b, at := range s.at {
		if at[1] < at[0] || at[1] > at[2] || at[0] <= 53 && 53 <= at[2] && at[1] != 53 {
			t.Errorf("block %d: edges at %g, want the second at 53 or next to it", b, at)
		}
	}
}

// Averaging leaves an even excess as it is, and stays within the layer.
func TestSmoothed_within(t *testing.T) {
	f, w := wavyField(100, 24)
	values, layer := make([]float64, len(f.lab)), make([]int, len(f.lab))
	for b := range f.blocks {
		for r := range f.rows {
			layer[r*f.blocks+b] = 1
			if float64(r) >= w.at[b][0] {
				layer[r*f.blocks+b] = 2
			}
			values[r*f.blocks+b] = float64(layer[r*f.blocks+b])
		}
	}
	for i, got := range f.smoothed(values, layer) {
		if math.Abs(got-values[i]) > 1e-12 {
			t.Fatalf("block %d: %g, want %g", i, got, values[i])
		}
	}
}

// A reflection of even white over a part of a layer is masked there and nowhere else; grains that are brighter
// than their layer in the layer's own colour are not.
func TestMaskVeil(t *testing.T) {
	s := rampField(0)
	f := s.field
	lit := func(lab [3]float64, gain, veil float64) [3]float64 {
		light := palette.Lab{L: lab[0], A: lab[1], B: lab[2]}.Linear()
		for c := range light {
			light[c] = gain*light[c] + veil
		}
		out := light.Lab()
		return [3]float64{out.L, out.A, out.B}
	}
	for i := range f.lab {
		grain := 1 + 0.02*float64(i*37%11-5)
		veil := 0.0
		if r, b := i/f.blocks, i%f.blocks; r >= 140 && r < 170 && b >= 3 && b < 6 {
			veil = 0.2
		}
		f.lab[i] = lit(f.lab[i], grain, veil)
	}
	s.looks = f.looks(s.warp)
	s.maskVeil()
	for i := range f.lab {
		r, b := i/f.blocks, i%f.blocks
		inside := r >= 150 && r < 160 && b == 4
		outside := r < 125 || r >= 185 || b < 1 || b >= 8
		if inside && !f.veiled[i] || outside && f.veiled[i] {
			t.Errorf("row %d, block %d: masked is %t", r, b, f.veiled[i])
		}
		if f.veiled[i] == f.seen[i] {
			t.Fatalf("row %d, block %d: masked is %t, seen is %t", r, b, f.veiled[i], f.seen[i])
		}
	}
}

// A card narrower than eight pixels gives the light that a broad one does.
func TestCorrection_narrowCard(t *testing.T) {
	p := painted(t, 80, 70, flat{Rectangle: image.Rect(10, 10, 70, 60), color: palette.Color{R: 160, G: 150, B: 140}})
	wide, err := newCorrection(p, []Card{{Box: Box{10, 10, 60, 50}, Reflectance: 0.4}})
	if err != nil {
		t.Fatal(err)
	}
	narrow, err := newCorrection(p, []Card{{Box: Box{20, 10, 7, 50}, Reflectance: 0.4}})
	if err != nil || narrow.cards != 1 {
		t.Fatalf("%d cards, warned %q, %v", narrow.cards, narrow.warnings, err)
	}
	near(t, "gain", narrow.gain, wide.gain, 1e-9)
}

// A box as small as a cell of two pixels shows its colour, whole.
func TestReadSwatch_oneCell(t *testing.T) {
	p := coloured(t, 20, 20, func(int, int) palette.Color { return brown })
	s, err := ReadSwatch(p, Box{4, 4, 2, 2}, nil)
	if err != nil || s.Color != brown || s.Masked != 0 {
		t.Errorf("got %+v, %v, want %v and nothing masked", s, err, brown)
	}
}

// A refusal names the picks' own corners.
func TestWithin_corners(t *testing.T) {
	p := &picture.Picture{Width: 100, Height: 80}
	const want = "picks outside the picture: the box from 10,20 to 40,90 reaches out of 100 x 80 pixels; mark it inside, in pixels of the upright picture"
	if err := within(p, "box", Box{10, 20, 30, 70}); err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// The strip's corners are where it was marked: its middle and top to the pixel, its sides and foot but for
// what a whole number of cells leaves over.
func TestQuad_asMarked(t *testing.T) {
	p := coloured(t, 200, 200, func(int, int) palette.Color { return brown })
	g := sample(p, frame{pxPerMM: 10, downY: 1}, 90, 30, 61, 101) // cells of two pixels
	q := g.quad(0, float64(g.rows), 0, float64(g.cols))
	want := [4]Point{{60, 30}, {120, 30}, {120, 130}, {60, 130}}
	for i := range q {
		if math.Abs(q[i].X-want[i].X) > 1e-9 || math.Abs(q[i].Y-want[i].Y) > 1e-9 {
			t.Fatalf("corners %v, want %v", q, want)
		}
	}
}

// Of a layer without a row nothing is seen.
func TestLayer_empty(t *testing.T) {
	s := rampField(0)
	s.level = []float64{100, 100}
	for b := range s.at {
		s.at[b] = []float64{100, 100}
	}
	s.looks = s.field.looks(s.warp)
	if l := s.layer(0, 1); l.seen != 0 || l.label() != palette.Unknown {
		t.Errorf("%g of it is seen, and it is held to %v", l.seen, l.label())
	}
}

// Where blocks are narrow several of them are averaged, a millimetre to each side.
func TestSmoothed_narrowBlocks(t *testing.T) {
	f, _ := wavyField(10, 21)
	f.width = 0.25
	values, layer := make([]float64, len(f.lab)), make([]int, len(f.lab))
	for i := range layer {
		layer[i] = 1
	}
	values[5*f.blocks+10] = 1
	out := f.smoothed(values, layer)
	for b := range f.blocks {
		if near := b >= 6 && b <= 14; (out[5*f.blocks+b] > 0) != near {
			t.Errorf("block %d: %g", b, out[5*f.blocks+b])
		}
	}
}
