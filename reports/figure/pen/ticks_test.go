package pen

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
)

// What stands at a step of a ruler is exactly its place, at any scale in both units, and the
// smaller steps divide the larger.
func TestTicksOf_writtenExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]layers.Units{layers.MM, layers.Inches}).Draw(t, "units")
		apart := math.Pow(10, rapid.Float64Range(-1, 2.5).Draw(t, "apart"))
		major, minor := TicksOf(u, apart, apart/10)
		if ratio := major.MM / minor.MM; math.Abs(ratio-math.Round(ratio)) > 1e-9 {
			t.Fatalf("steps of %v mm are divided by %v", major.MM, minor.MM)
		}
		for n := range 20 {
			mm := float64(n) * major.MM
			written := major.Words(mm)
			if got, err := strconv.ParseFloat(written, 64); err != nil || math.Abs(got-u.Of(mm)) > 1e-9 {
				t.Errorf("%v %s is written %q", u.Of(mm), u, written)
			}
			if whole := u.Of(major.MM) > 0.99; whole && written != strconv.Itoa(int(math.Round(u.Of(mm)))) {
				t.Errorf("%q stands at a whole step", written)
			}
		}
	})
}
