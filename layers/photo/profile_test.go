package photo

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// drawWarp is edges that ascend in the level and in every block.
func drawWarp(t *rapid.T) warp {
	edges, blocks := rapid.IntRange(0, 5).Draw(t, "edges"), rapid.IntRange(1, 4).Draw(t, "blocks")
	ascending := func(name string) []float64 {
		list := make([]float64, edges)
		row := 0.0
		for i := range list {
			row += rapid.Float64Range(0.5, 40).Draw(t, name)
			list[i] = row
		}
		return list
	}
	w := warp{level: ascending("level")}
	for range blocks {
		w.at = append(w.at, ascending("at"))
	}
	return w
}

// Levelled rows keep their order in every block, edges lie where they were traced, and the way back
// leads where it came from.
func TestWarp_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWarp(t)
		for b := range w.at {
			for k, level := range w.level {
				if got := w.row(level, b); math.Abs(got-w.at[b][k]) > 1e-9 {
					t.Fatalf("edge %d lies at %g in block %d, want %g", k, got, b, w.at[b][k])
				}
			}
			back := warp{level: w.at[b], at: [][]float64{w.level}}
			last := math.Inf(-1)
			for level := -20.0; level < 250; level += 1.7 {
				row := w.row(level, b)
				if row <= last {
					t.Fatalf("row %g of the level lies at %g in block %d, above the one before", level, row, b)
				}
				last = row
				if got := back.row(row, 0); math.Abs(got-level) > 1e-6 {
					t.Fatalf("row %g of the level lies at %g in block %d, which leads back to %g", level, row, b, got)
				}
			}
		}
	})
}

// Colours of sand, rust and mud, CIELAB.
var sand, rust, mud = [3]float64{80, 3, 15}, [3]float64{50, 25, 40}, [3]float64{30, 1, 3}

// wavyField is sand over mud with a line of rust between them, six rows thick and as wavy as nine
// rows up and down; its two edges lie at the mean and in each block as told.
func wavyField(rows, blocks int) (f *field, w warp) {
	const line, wave = 6, 9
	f = &field{rows: rows, blocks: blocks, pitch: 0.2, width: 1, lab: make([][3]float64, rows*blocks), seen: make([]bool, rows*blocks)}
	w = warp{level: []float64{float64(rows) / 2, float64(rows)/2 + line}, at: make([][]float64, blocks)}
	for b := range blocks {
		edge := math.Round(float64(rows)/2 + wave*math.Sin(float64(b)/2))
		w.at[b] = []float64{edge, edge + line}
		for r := range rows {
			f.seen[r*blocks+b] = true
			switch row := float64(r); {
			case row < edge:
				f.lab[r*blocks+b] = sand
			case row < edge+line:
				f.lab[r*blocks+b] = rust
			default:
				f.lab[r*blocks+b] = mud
			}
		}
	}
	return f, w
}

// A thin line that waves across the strip is lost in rows as they lie, and whole in the levelled
// column.
func TestLevel_thinLine(t *testing.T) {
	f, w := wavyField(100, 24)
	for _, value := range f.level(warp{at: make([][]float64, f.blocks)}).value {
		if value == rust {
			t.Error("rows as they lie show the line: no test")
		}
	}
	for r, value := range f.level(w).value {
		want := sand
		switch {
		case r >= 56:
			want = mud
		case r >= 50:
			want = rust
		}
		if value != want {
			t.Errorf("row %d of the levelled column is %v, want %v", r, value, want)
		}
	}
}

// A row of which glare hides more than 60 % does not count.
func TestLevel_hiddenRows(t *testing.T) {
	f, _ := wavyField(60, 20)
	for r := 10; r < 20; r++ {
		for b := range 11 + r%5 { // 55 to 75 % of the row
			f.seen[r*f.blocks+b] = false
		}
	}
	s := f.level(warp{at: make([][]float64, f.blocks)})
	for r := 10; r < 20; r++ {
		if counts := s.weight[r][0] > 0; counts != (11+r%5 <= 12) {
			t.Errorf("row %d with %d of %d blocks hidden counts: %v", r, 11+r%5, f.blocks, counts)
		}
	}
}

// autoregressive is a stationary AR(1) signal of variance 1 that remembers a share rho of
// itself from row to row, in lightness.
func autoregressive(rng *rand.Rand, rows int, rho, weight float64) signal {
	s := signal{make([][3]float64, rows), make([][3]float64, rows)}
	x := rng.NormFloat64()
	for r := range rows {
		s.value[r][0], s.weight[r] = 50+x, [3]float64{weight, weight, weight}
		x = rho*x + math.Sqrt(1-rho*rho)*rng.NormFloat64()
	}
	return s
}

// The rows that speak as one in an autoregressive signal are (1 + rho)/(1 - rho), as the sum of
// its autocorrelations has it; the variance beyond the weights is what it was made with.
func TestGrain_autoregressive(t *testing.T) {
	const rows, signals = 1200, 8
	for _, rho := range []float64{0, 0.3, 0.5, 0.7} {
		rng := rand.New(rand.NewPCG(11, uint64(100*rho)))
		var kappa, scale float64
		for range signals {
			k, s := autoregressive(rng, rows, rho, 4).grain(nil, rows)
			kappa += k / signals
			scale += s / signals
		}
		if want := (1 + rho) / (1 - rho); math.Abs(kappa-want) > 0.15*want {
			t.Errorf("autocorrelation %.1f: kappa %.2f, want %.2f", rho, kappa, want)
		}
		if math.Abs(scale-4) > 0.5 {
			t.Errorf("autocorrelation %.1f: %.2f times the variance that the weights tell, want 4", rho, scale)
		}
	}
}

// Steps between layers are no grain, whether or not they are known.
func TestGrain_steps(t *testing.T) {
	const rows = 600
	rng := rand.New(rand.NewPCG(11, 3))
	s := autoregressive(rng, rows, 0.3, 1)
	levels := []float64{150, 300, 450}
	for r := range rows {
		s.value[r][0] += 20 * float64(r/150%2)
	}
	for name, known := range map[string][]float64{"known": levels, "unknown": nil} {
		if kappa, scale := s.grain(known, 25); kappa > 2.5 || scale > 1.5 {
			t.Errorf("steps %s: kappa %.2f and %.2f times the variance, want about 1.9 and 1", name, kappa, scale)
		}
	}
}
