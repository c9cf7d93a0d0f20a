package palette

import (
	"math"
	"testing"
)

// A thickness says of a band what a log-normal distribution does: it is as likely at half its likeliest
// thickness as at twice of it and less so, and by numbers nearly all of it lies within 1 to 200 mm. Black layers are
// thought a little thinner than grey ones. A layer of 300 mm says what one of 200 mm does, and one of 0.2 mm what
// one of 1 mm does.
func TestThicknessDensities(t *testing.T) {
	const step = 0.001 // of the natural logarithm
	for _, b := range Bands() {
		var sum, most, at float64
		for log := step / 2; log < math.Log(200); log += step {
			d := thicknessDensities(math.Exp(log))[b]
			sum += d * step / math.Sqrt(2*math.Pi)
			if d > most {
				most, at = d, log
			}
		}
		if sum < 0.85 || sum > 1.001 {
			t.Errorf("%v is 1 to 200 mm thick with a probability of %.3f", b, sum)
		}
		half, twice := thicknessDensities(math.Exp(at) / 2)[b], thicknessDensities(2 * math.Exp(at))[b]
		if math.Abs(half/twice-1) > 0.01 || half >= most {
			t.Errorf("%v: %g at half of %.1f mm, %g there, %g at twice of it", b, half, math.Exp(at), most, twice)
		}
	}
	for mm, thicker := range map[float64]Band{20: Black, 22: Grey} {
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

// Under every step the shares of all bands tell of a hundred columns.
func TestShares_addUp(t *testing.T) {
	for _, from := range froms {
		var sum float64
		for _, b := range stepBands {
			sum += bands[b].under.at(from)
		}
		if sum != 100 {
			t.Errorf("under step %d follow %g %%", from, sum)
		}
	}
}

// Softening takes three tenths from the step that always follows and gives them evenly to all
// that may (but unknown); at the top a front gets none, below a reduced band neither does mulm nor a second
// front, and below the native substrate mulm gets none.
func TestSoftened(t *testing.T) {
	var rows order
	for _, from := range froms {
		rows[from][Grey] = 1
	}
	soft := softened(rows)
	for _, c := range []struct {
		from int
		want [steps]float64
	}{
		{atTop, [steps]float64{MulmLight: 0.06, MulmDark: 0.06, Black: 0.06, Grey: 0.76, Native: 0.06}},
		{int(Native), [steps]float64{Rust: 0.075, Black: 0.075, Grey: 0.775, Native: 0.075}},
		{int(Black), [steps]float64{Black: 0.1, Grey: 0.8, nativeBelow: 0.1}},
		{nativeBelow, [steps]float64{Black: 0.1, Grey: 0.8, nativeBelow: 0.1}},
	} {
		for to := range c.want {
			if math.Abs(soft[c.from][to]-c.want[to]) > 1e-12 {
				t.Errorf("from step %d to %d: %g, want %g", c.from, to, soft[c.from][to], c.want[to])
			}
		}
	}
}

// A photo's column follows the same order, but of neighbours of one band only those show that were cut in two.
func TestCut(t *testing.T) {
	for _, from := range wayDown {
		for _, to := range wayDown {
			want := (1 - cutInTwo) * asTyped[from][to]
			if to == from {
				want = cutInTwo
			}
			if p := asCut[from][to]; math.Abs(p-want) > 1e-12 {
				t.Errorf("from step %d to %d: %g, want %g", from, to, p, want)
			}
		}
	}
	if asCut[atTop] != asTyped[atTop] {
		t.Error("what lies at the top depends on how a column was cut")
	}
}
