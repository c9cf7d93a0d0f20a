package photo

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"panecore/palette"
)

// grainyGrid is a strip of 40 x 60 mm in cells of 0.25 mm: level layers of grains, each as light as given from so
// many mm on; spread is the standard deviation of the logarithm of a grain's light.
func grainyGrid(seed uint64, spread float64, layers map[float64]palette.Linear) *grid {
	g := &grid{pitch: 0.25, rows: 240, cols: 160}
	rng := rand.New(rand.NewPCG(seed, 1))
	var tops []float64
	for top := range layers {
		tops = append(tops, top)
	}
	slices.Sort(tops)
	var grains [60][40]float64 // of a millimetre
	for r := range grains {
		for c := range grains[r] {
			grains[r][c] = math.Exp(spread * rng.NormFloat64())
		}
	}
	for r := range g.rows {
		at, _ := slices.BinarySearch(tops, float64(r)*g.pitch+1e-9)
		color := layers[tops[at-1]]
		for c := range g.cols {
			light := color
			for ch := range light {
				light[ch] *= grains[r/4][c/4] * (1 + 0.05*rng.NormFloat64())
			}
			g.light, g.pixels, g.burnt = append(g.light, light), append(g.pixels, 4), append(g.burnt, 0)
		}
	}
	return g
}

var (
	brownLight = palette.Linear{0.12, 0.08, 0.05}
	sandLight  = palette.Linear{0.25, 0.2, 0.13}
	mudLight   = palette.Linear{0.03, 0.028, 0.025}
)

func bedGrid(seed uint64) *grid {
	return grainyGrid(seed, 0.5, map[float64]palette.Linear{0: brownLight, 14: sandLight, 36: mudLight})
}

// add lays light on a part of a grid.
func (g *grid) add(fromRow, toRow, fromColumn, toColumn int, light palette.Linear) {
	for r := fromRow; r < toRow; r++ {
		for c := fromColumn; c < toColumn; c++ {
			for ch, v := range light {
				g.light[r*g.cols+c][ch] += v
			}
		}
	}
}

// A mirrored window is found with its side, its head and its foot, on either side of the strip, and taken off to
// within a fifth; grains, layers, green leaves and a light that fades are no window.
func TestGrid_window(t *testing.T) {
	white := palette.Linear{0.2, 0.21, 0.22}
	for seed := range uint64(5) {
		for name, c := range map[string]struct{ head, from, to int }{"left": {0, 0, 100}, "right": {0, 60, 160}, "low": {40, 60, 160}} {
			g := bedGrid(seed)
			if c.head > 0 { // what lies above its head is less of the bed, and grains matter more
				g = grainyGrid(seed, 0.3, map[float64]palette.Linear{0: brownLight, 14: sandLight, 36: mudLight})
			}
			g.add(c.head, 110, c.from, c.to, white)
			w, found := g.window(0)
			if !found || abs(w.from-c.from) > 2 || abs(w.to-c.to) > 2 || abs(w.head-c.head) > 2 || abs(w.foot-110) > 2 {
				t.Fatalf("%d %s: found %v with columns %d to %d from row %d to %d, want %d to %d from %d to 110", seed, name, found, w.from, w.to, w.head, w.foot, c.from, c.to, c.head)
			}
			for ch, v := range w.added {
				if math.Abs(v-white[ch]) > 0.2*white[ch] {
					t.Errorf("%s: it adds %v, want %v", name, w.added, white)
				}
			}
			g.shut(w)
			if left, right := g.mean(50, 20, 60, 1), g.mean(50, 100, 140, 1); math.Abs(left-right) > 0.1 {
				t.Errorf("%s: %.3f is left beside %.3f", name, left, right)
			}
		}
		for name, spoil := range map[string]func(*grid){
			"none":     func(*grid) {},
			"leaves":   func(g *grid) { g.add(0, 110, 0, 100, palette.Linear{0.03, 0.2, 0.02}) },
			"too flat": func(g *grid) { g.add(0, 20, 0, 100, white) },
			"fading": func(g *grid) {
				for c := range g.cols {
					v := 0.3 * float64(g.cols-c) / float64(g.cols)
					g.add(0, 110, c, c+1, palette.Linear{v, v, v})
				}
			},
			"throughout": func(g *grid) { g.add(0, g.rows, 0, 100, white) },
		} {
			g := bedGrid(seed)
			spoil(g)
			if w, found := g.window(0); found && name != "throughout" {
				t.Errorf("%s: found a window in columns %d to %d down to row %d", name, w.from, w.to, w.foot)
			}
		}
	}
}

func abs(n int) int { return max(n, -n) }

func TestStretch(t *testing.T) {
	for _, c := range []struct {
		list     []float64
		step     int
		from, to int
	}{
		{[]float64{3, 3, 3, 0, 0}, 1, 0, 3},
		{[]float64{0, -1, 5, 5, 0}, 1, 2, 4},
		{[]float64{0, 0, 0, 2, 2, 2}, 2, 3, 6},
		{[]float64{-4}, 1, 0, 1},
		{[]float64{0, 0}, 1, 0, 0},
	} {
		if from, to := stretch(c.list, c.step); from != c.from || to != c.to {
			t.Errorf("%v by %d: from %d to %d, want %d to %d", c.list, c.step, from, to, c.from, c.to)
		}
	}
}

// What a mirrored room adds above its line is found, whatever the layer looks like, and an edge between two
// materials is no such line.
func TestAddedAbove(t *testing.T) {
	room := palette.Linear{0.034, 0.037, 0.04}
	cut := func(g *grid, row float64) *strata {
		c := &correction{gain: palette.Linear{1, 1, 1}}
		s := &strata{field: newField(g, c)}
		s.level = []float64{0, row}
		for range s.field.blocks {
			s.at = append(s.at, []float64{0, row})
		}
		return s
	}
	for seed := range uint64(5) {
		g := grainyGrid(seed, 0.2, map[float64]palette.Linear{0: brownLight})
		g.add(0, 120, 0, g.cols, room)
		s := cut(g, 120)
		line, found := s.mirrored(g)
		if !found {
			t.Fatal("the line of a mirrored room is not found")
		}
		for ch, v := range line.added {
			if v < 0.3*room[ch] || v > 1.7*room[ch] { // a few hundred grains tell no more
				t.Errorf("it adds %v, want %v", line.added, room)
			}
		}
		before := g.light[100*g.cols+50]
		g.unmirror(line, s.field.wide)
		if after := g.light[100*g.cols+50]; math.Abs(before[1]-after[1]-line.added[1]) > 1e-12 {
			t.Errorf("above the line %.4f became %.4f, want %.4f less", before[1], after[1], line.added[1])
		}
		if s.dropLine(line); len(s.level) != 1 {
			t.Errorf("edges %v are left, want the surface alone", s.level)
		}
		for name, other := range map[string]palette.Linear{"sand": sandLight, "mud": mudLight, "the same": brownLight} {
			g := grainyGrid(seed, 0.2, map[float64]palette.Linear{0: other, 30: brownLight})
			if line, found := cut(g, 120).mirrored(g); found {
				t.Errorf("%s over brown is told for a mirrored room that adds %v", name, line.added)
			}
		}
	}
}

// A bright window that is mirrored across the whole strip ends above where something is darker than its light;
// light as strong over one layer alone is the layer's own.
func TestMirrored_window(t *testing.T) {
	bright := palette.Linear{0.2, 0.21, 0.22}
	cut := func(g *grid, rows ...float64) *strata {
		s := &strata{field: newField(g, &correction{gain: palette.Linear{1, 1, 1}})}
		s.level = rows
		for range s.field.blocks {
			s.at = append(s.at, slices.Clone(rows))
		}
		return s
	}
	for seed := range uint64(5) {
		g := grainyGrid(seed, 0.2, map[float64]palette.Linear{0: brownLight, 15: mudLight, 25: sandLight})
		g.add(30, 180, 0, g.cols, bright)
		s := cut(g, 0, 30, 60, 100, 180)
		line, found := s.mirrored(g)
		if !found || line.head == nil || line.head[0] != 30 || line.rows[0] != 180 {
			t.Fatalf("found %v from %v to %v, want the window from 30 to 180", found, line.head, line.rows)
		}
		for ch, v := range line.added {
			if math.Abs(v-bright[ch]) > 0.3*bright[ch] {
				t.Errorf("it adds %v, want %v", line.added, bright)
			}
		}
		before := g.light
		g.light = slices.Clone(g.light)
		g.unmirror(line, s.field.wide)
		for row, mirrored := range map[int]bool{20: false, 40: true, 170: true, 200: false} {
			if at := row*g.cols + 50; (g.light[at] != before[at]) != mirrored {
				t.Errorf("row %d: light taken off %v, want %v", row, !mirrored, mirrored)
			}
		}
		if s.dropLine(line); len(s.level) != 3 {
			t.Errorf("edges %v are left, want the surface and two", s.level)
		}
		g.light = before
		if line, found := cut(g, 0, 30, 180).mirrored(g); found {
			t.Errorf("one layer is told for a mirrored window that adds %v", line.added)
		}
	}
}

func TestQuantileLine(t *testing.T) {
	var x, y []float64
	for i := range 100 {
		x = append(x, float64(i*i))
		y = append(y, 0.5*float64(i*i)+3)
	}
	if slope, shift := quantileLine(x, y); math.Abs(slope-0.5) > 1e-9 || math.Abs(shift-3) > 1e-6 {
		t.Errorf("slope %g and shift %g, want 0.5 and 3", slope, shift)
	}
}

// Coarser grain differs less from one cell to the next than from afar, and stronger grain has more contrast.
func TestGrainBetween(t *testing.T) {
	of := func(g *grid) palette.Texture {
		c := &correction{gain: palette.Linear{1, 1, 1}}
		s := &strata{field: newField(g, c)}
		s.level = []float64{0}
		for range s.field.blocks {
			s.at = append(s.at, []float64{0})
		}
		return s.grainBetween(0, 1)
	}
	coarse := of(grainyGrid(1, 0.5, map[float64]palette.Linear{0: brownLight})) // of a millimetre
	fine := grainyGrid(1, 0.5, map[float64]palette.Linear{0: brownLight})
	rng := rand.New(rand.NewPCG(2, 2))
	for i := range fine.light {
		fine.light[i] = brownLight
		by := math.Exp(0.5 * rng.NormFloat64())
		for ch := range fine.light[i] {
			fine.light[i][ch] *= by
		}
	}
	noise := of(fine)
	if !(coarse.Fineness < 0.5 && noise.Fineness > 0.9 && noise.Fineness < 1.1) {
		t.Errorf("fineness %.2f of grains a millimetre wide, %.2f of cells that differ at random", coarse.Fineness, noise.Fineness)
	}
	if math.Abs(coarse.Contrast-0.5) > 0.1 || math.Abs(noise.Contrast-0.5) > 0.1 {
		t.Errorf("contrast %.2f and %.2f, want 0.5: less what is added to the dark", coarse.Contrast, noise.Contrast)
	}
}

// A window that the pane mirrors across the bed surface is found by both its sides, hanging askew too, and its light taken
// off; a bed without one shows none.
func TestPane_findMirrors(t *testing.T) {
	const head, foot, left, right = 30, 120, 240, 400
	beds := []*grid{bedGrid(7), bedGrid(8), bedGrid(9)}
	added := palette.Linear{0.2, 0.19, 0.18}
	for _, askew := range []int{-3, 0, 3} { // cells by which the right end hangs lower
		n := &pane{grid: &grid{frame: frame{pxPerMM: 4, downY: 1}, pitch: 0.25, rows: 240, cols: 480}}
		for row := range n.rows {
			for _, g := range beds {
				n.grid.light = append(n.grid.light, g.light[row*g.cols:(row+1)*g.cols]...)
			}
		}
		n.pixels, n.burnt = slices.Repeat([]uint16{4}, len(n.grid.light)), make([]uint16, len(n.grid.light))
		if n.findMirrors(); n.mirrors != nil {
			t.Fatalf("of a bed that mirrors nothing found %v", n.mirrors)
		}
		plain := slices.Clone(n.grid.light)
		for c := left; c < right; c++ {
			down := int(math.Round(float64(askew) * float64(c-left) / (right - left)))
			n.add(head+down, foot+down, c, c+1, added)
		}
		n.findMirrors()
		if !n.mirrored(290, 350, 60, 100) || n.mirrored(0, 150, 0, n.rows) {
			t.Errorf("askew by %d: found %v, want one from column %d to %d", askew, n.mirrors, left, right)
		}
		off := 0.0
		for r := range n.rows {
			for c := left + 4; c < right-4; c++ {
				off += n.grid.light[r*n.cols+c].Luminance() - plain[r*n.cols+c].Luminance()
			}
		}
		if off /= float64((right - left - 8) * (foot - head)); math.Abs(off) > 0.03 {
			t.Errorf("askew by %d: what is left of its light is %.3f a cell of %.3f", askew, off, added.Luminance())
		}
	}
}
