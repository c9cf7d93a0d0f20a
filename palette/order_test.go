package palette

import (
	"math"
	"testing"
)

// The common order tells of a hundred columns a row, its softened form of all that may follow:
// each adds up.
func TestOrder_addsUp(t *testing.T) {
	for above := range commonOrder {
		var common, soft float64
		for _, percent := range commonOrder[above] {
			common += percent
		}
		for _, p := range order[above] {
			soft += p
		}
		if common != 100 || math.Abs(soft-1) > 1e-12 {
			t.Errorf("below step %d follow %g %% in the common order, %g softened", above, common, soft)
		}
	}
}

// Softening takes three tenths from the step that always follows and gives them evenly to all six
// that may (but unknown); below a reduced band mulm and a second front get none, and below the native
// substrate mulm gets none.
func TestSoften(t *testing.T) {
	var rows [steps][stepNativeBelow - 1]float64
	for above := range rows {
		rows[above][stepGrey-1] = 100
	}
	soft := soften(rows)
	for _, c := range []struct {
		above int
		want  [steps]float64
	}{
		{atTop, [steps]float64{stepMulmLight: 0.05, stepMulmDark: 0.05, stepRust: 0.05, stepBlack: 0.05, stepGrey: 0.75, stepNative: 0.05}},
		{stepNative, [steps]float64{stepRust: 0.075, stepBlack: 0.075, stepGrey: 0.775, stepNative: 0.075}},
		{stepBlack, [steps]float64{stepBlack: 0.1, stepGrey: 0.8, stepNativeBelow: 0.1}},
		{stepNativeBelow, [steps]float64{stepBlack: 0.1, stepGrey: 0.8, stepNativeBelow: 0.1}},
	} {
		for to := range c.want {
			if math.Abs(soft[c.above][to]-c.want[to]) > 1e-12 {
				t.Errorf("from step %d to %d: %g, want %g", c.above, to, soft[c.above][to], c.want[to])
			}
		}
	}
}

// A thickness says of a band what the log-normal distribution about its median does: by numbers it
// adds up to one, it is most at the median times exp(−σ²) by the millimetre, and as likely at half
// the median as at twice of it. A layer of 300 mm says what one of 200 mm does, and one of 0.2 mm what one of
// 1 mm does.
func TestThicknessDensities(t *testing.T) {
	const step = 0.001 // of the natural logarithm
	for _, b := range Bands() {
		var sum float64
		for log := math.Log(1.0); log < math.Log(200); log += step {
			sum += thicknessDensities(math.Exp(log))[b] * step / math.Sqrt(2*math.Pi)
		}
		if sum < 0.85 || sum > 1.001 {
			t.Errorf("%v is 1 to 200 mm thick with a probability of %.3f", b, sum)
		}
		median := usualThickness[b].median
		half, twice := thicknessDensities(max(thinnest, median/2))[b], thicknessDensities(median * median / max(thinnest, median/2))[b]
		if most := thicknessDensities(median)[b]; math.Abs(half-twice) > 1e-12 || half >= most {
			t.Errorf("%v: %g at half its median, %g at it, %g at twice of it", b, half, most, twice)
		}
	}
	for mm, thicker := range map[float64]Band{20: Black, 22: Grey} { // black ones are thought a little thinner
		if d := thicknessDensities(mm); (d[Grey] > d[Black]) != (thicker == Grey) {
			t.Errorf("%g mm: %g for black, %g for grey", mm, d[Black], d[Grey])
		}
	}
	for _, same := range [][2]float64{{0.2, 1}, {300, 200}} {
		if thicknessDensities(same[0]) != thicknessDensities(same[1]) {
			t.Errorf("%g mm says else than %g mm", same[0], same[1])
		}
	}
	for _, other := range [][2]float64{{1, 1.1}, {190, 200}} {
		if thicknessDensities(other[0]) == thicknessDensities(other[1]) {
			t.Errorf("%g mm says the same as %g mm", other[0], other[1])
		}
	}
}
