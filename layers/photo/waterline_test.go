package photo

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// An unmarked bed surface is mostly found, however much water the strip begins with: in four of five of these scenes,
// whose water is drawn as sharp as the bed.
func TestLook_surfaceUnmarked(t *testing.T) {
	found, all := 0, 0
	for _, name := range fewer(t, "easy-01", "easy-05", "easy-12", "middling-03", "middling-08", "hard-04") {
		shot := photoOf(t, name)
		truth := shot.Truth
		p, err := picture.Decode(shot.JPEG)
		if err != nil {
			t.Fatal(err)
		}
		for _, margin := range []float64{0, 6, 12} { // mm
			picks := picksOf(truth)
			foot := picks.Strip.Y + picks.Strip.H
			picks.SurfaceY = nil
			picks.Strip.Y = max(0, truth.TrueSurfaceY-margin*truth.PxPerMM)
			picks.Strip.H = foot - picks.Strip.Y
			r, err := Read(p, picks, palette.NewMatcher(nil, nil))
			if err != nil {
				t.Errorf("%s, %g mm of water: %v", name, margin, err)
				continue
			}
			y := 0.0
			for _, at := range r.Edges[0] {
				y += at.Y / float64(len(r.Edges[0]))
			}
			if off := (y - truth.TrueSurfaceY) / truth.PxPerMM; math.Abs(off) > 3 {
				t.Logf("%s, %g mm of water: the surface is found %.1f mm off", name, margin, off)
			} else {
				found++
			}
			all++
		}
	}
	if 5*found < 4*all {
		t.Errorf("%d of %d surfaces are found within 3 mm, want four of five", found, all)
	}
}

// waterField has calm rows above coarse ones, which begin at a row; the calm ones are greener by so much.
func waterField(begin int, greener float64) *field {
	const rows, cols, wide = 150, 100, 5
	rng := rand.New(rand.NewPCG(5, 6))
	f := &field{rows: rows, blocks: cols / wide, pitch: 0.2, width: 1, wide: wide, cols: cols, log: make([]float32, rows*cols)}
	f.lab, f.seen = make([][3]float64, rows*f.blocks), make([]bool, rows*f.blocks)
	for r := range rows {
		for c := range cols {
			spread := 0.3
			if r < begin {
				spread = 0.05
			}
			f.log[r*cols+c] = float32(spread * rng.NormFloat64())
		}
		for b := range f.blocks {
			at := r*f.blocks + b
			f.lab[at], f.seen[at] = [3]float64{40, 5, 15}, true
			if r < begin {
				f.lab[at][1] -= greener
			}
		}
	}
	return f
}

func TestWaterline(t *testing.T) {
	for _, greener := range []float64{0, 20} {
		if at, found := waterField(60, greener).waterline(); !found || math.Abs(at.row-60) > 5 {
			t.Errorf("greener by %g: found %t at row %g, want 60", greener, found, at.row)
		}
	}
	if at, found := waterField(0, 0).waterline(); found {
		t.Errorf("water is found down to row %g of a strip that shows none", at.row)
	}
	unseen := waterField(60, 20)
	for i := range unseen.log {
		unseen.log[i] = float32(math.NaN())
	}
	clear(unseen.seen)
	if at, found := unseen.waterline(); found {
		t.Errorf("water is found down to row %g of a strip where nothing is seen", at.row)
	}
}

// A surface that colour alone shows, where the bed is as blurred as the water, is told as doubtful.
func TestWaterline_dull(t *testing.T) {
	f := waterField(60, 20)
	if at, found := f.waterline(); !found || !at.sharp {
		t.Fatalf("found %t, sharp %t of a bed that is sharper than the water", found, at.sharp)
	}
	calm := slices.Repeat([]float64{-2}, f.rows)
	if at := f.meet(60, calm, f.hues()); at.sharp || math.Abs(at.row-60) > 5 {
		t.Errorf("without texture it is met at row %g, sharp %t; want 60 by its colour alone", at.row, at.sharp)
	}
}
