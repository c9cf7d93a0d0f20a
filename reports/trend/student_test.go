package trend

import (
	"math"
	"testing"
)

// TestStudent: the quantiles of Student's t as tables print them, at 95 and 97.5 %. The first terms come
// near enough from three degrees of freedom on, and nearer the more there are.
func TestStudent(t *testing.T) {
	for _, c := range []struct{ freedom, t95, t975, tolerance float64 }{
		{3, 2.353, 3.182, 0.04},
		{4, 2.132, 2.776, 0.02},
		{5, 2.015, 2.571, 0.011},
		{6, 1.943, 2.447, 0.008},
		{8, 1.860, 2.306, 0.004},
		{10, 1.812, 2.228, 0.003},
		{30, 1.697, 2.042, 0.001},
	} {
		for z, want := range map[float64]float64{1.644854: c.t95, 1.959964: c.t975} {
			if got := Student(z, c.freedom); math.Abs(got/want-1) > c.tolerance || Student(-z, c.freedom) != -got {
				t.Errorf("%g degrees of freedom: %.3f for a normal %.3f, want %.3f", c.freedom, got, z, want)
			}
		}
	}
}
