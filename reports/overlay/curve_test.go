package overlay

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"panecore/palette"
)

// What is looked up is what would be computed, at the edges of codes too.
func TestCurve_asComputed(t *testing.T) {
	c := newCurve()
	check := func(t rapid.TB, light float64) {
		if got, want := c.of(light), (palette.Linear{light}).Color().R; got != want {
			t.Errorf("light %v has code %d, want %d", light, got, want)
		}
	}
	for _, edge := range append(c.from[:], 0, 1) {
		for _, light := range []float64{edge, math.Nextafter(edge, -1), math.Nextafter(edge, 2)} {
			check(t, light)
		}
	}
	rapid.Check(t, func(t *rapid.T) { check(t, rapid.Float64Range(-0.5, 1.5).Draw(t, "light")) })
}

// A step that held more codes would be slow.
func TestCurve_fewCodesInAStep(t *testing.T) {
	c := newCurve()
	for i := range c.code[1:] {
		if c.code[i+1]-c.code[i] > 4 {
			t.Errorf("step %d holds the codes %d to %d", i, c.code[i], c.code[i+1])
		}
	}
}
