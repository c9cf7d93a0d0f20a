package photo

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A camera is found from how a tag is seen, whatever its lens, where the pane leans enough to tell; straight on, it stands
// before the picture's middle.
func TestPlane_cameras(t *testing.T) {
	const width, height, away = 1600.0, 1200.0, 320.0 // the last as in leaning
	rng := rand.New(rand.NewPCG(3, 8))
	for range 100 {
		lens := 0.6 + 1.2*rng.Float64()
		yaw, pitch := 4*rng.Float64()-2, 14+6*rng.Float64()
		if rng.IntN(2) == 0 {
			pitch = -pitch
		}
		plane := leaning(lens*width/away, Point{width / 2, height / 2}, yaw, pitch, 20*rng.Float64()-10)
		likely, highest := plane.cameras(width, height)
		want := -away * math.Sin(pitch*math.Pi/180)
		if math.Abs(likely.y-want) > 0.1*away || math.Abs(likely.away/away-1) > 0.15 {
			t.Errorf("lens %.2f, pitch %.0f: found the camera at %.0f mm down, %.0f away, want %.0f and about %.0f", lens, pitch, likely.y, likely.away, want, away)
		}
		if highest.y > likely.y {
			t.Errorf("lens %.2f, pitch %.0f: the highest camera is at %.0f mm down, lower than the likeliest at %.0f", lens, pitch, highest.y, likely.y)
		}
	}
	if c, _ := leaning(5, Point{width / 2, height / 2}, 0, 0, 0).cameras(width, height); math.Hypot(c.x, c.y) > 1 {
		t.Errorf("straight on: found the camera at %.1f, %.1f, want it before the middle", c.x, c.y)
	}
}

// topField is water down to row 40, a bed's calm top down to a row, and the bed's grains from there.
func topField(front int) *field {
	f := waterField(front, 0)
	for r := range 40 {
		for b := range f.blocks {
			f.lab[r*f.blocks+b][1] -= 20
		}
	}
	return f
}

func TestTurns_front(t *testing.T) {
	for _, front := range []int{50, 80, 110} {
		turns := topField(front).turns()
		water, found := turns.waterline()
		if !found || math.Abs(water.row-40) > 5 && front > 50 {
			t.Errorf("front at row %d: the water ends at row %g, want 40", front, water.row)
		}
		if got := turns.front(water.row, 20); math.Abs(got.row-float64(front)) > 5 || !got.sharp {
			t.Errorf("found the front at row %g, sharp %t, want %d", got.row, got.sharp, front)
		}
	}
	turns := topField(110).turns()
	if got := turns.front(40, 4); got.row > 70 {
		t.Errorf("found the front at row %g, want it within 4 mm of row 40", got.row)
	}
}

// Where a grid reaches beyond the picture nothing turns.
func TestTurns_besideThePicture(t *testing.T) {
	f := waterField(60, 20)
	for r := range f.rows {
		if r >= 10 && r < 110 {
			continue
		}
		for c := range f.cols {
			f.log[r*f.cols+c] = float32(math.NaN())
		}
		clear(f.seen[r*f.blocks : (r+1)*f.blocks])
	}
	turns := f.turns()
	for r := range f.rows {
		if off := math.Abs(float64(r - 60)); off > 40 && turns.texture(r)+turns.redder[r] > 0.5 {
			t.Errorf("row %d turns redder by %.1f and counts %.2f for texture, want none beside the picture", r, turns.redder[r], turns.texture(r))
		}
	}
	if at, found := turns.waterline(); !found || math.Abs(at.row-60) > 5 {
		t.Errorf("found %t the water's end at row %g, want 60", found, at.row)
	}
}

// shoresOf are columns that show so much of a bed's top, mm.
func shoresOf(tops []float64) (list []shoreIn) {
	for _, top := range tops {
		list = append(list, shoreIn{top: top})
	}
	return list
}

// A camera well above the bed must see its top; if it seems not to, what was taken for the front may be the top's far end.
func TestPane_missesTop(t *testing.T) {
	plane := Plane{5, 0, 0, 0, 5, 0, 0, 0}
	for _, c := range []struct {
		name   string
		camera camera
		tops   []float64
		want   bool
	}{
		{"above, not seen", camera{y: -60, away: 300}, []float64{0, 0, 0, 1, 0, 0}, true},
		{"above, seen", camera{y: -60, away: 300}, []float64{0, 14, 0, 13, 0, 0}, false},
		{"level", camera{y: 20, away: 300}, []float64{0, 0, 0, 0}, false},
		{"hardly above", camera{y: 5, away: 300}, []float64{0, 0, 0, 0}, false},
	} {
		n := &pane{grid: &grid{tilt: &plane, pitch: 0.5, cols: 100}, likely: c.camera}
		if got := n.missesTop(line{row: 40}, shoresOf(c.tops)); got != c.want {
			t.Errorf("%s: the top is missed: %t, want %t", c.name, got, c.want)
		}
	}
	if n := (&pane{grid: &grid{pitch: 0.5, cols: 100}, likely: camera{y: -60, away: 300}}); n.missesTop(line{row: 40}, shoresOf([]float64{0})) {
		t.Error("without a plane no camera is known, but the top is missed")
	}
}
