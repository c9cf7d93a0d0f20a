package palette

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Linear light goes back to its colour, and its luminance is the L* of the colour.
func TestLinear_thereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Color{rapid.Byte().Draw(t, "R"), rapid.Byte().Draw(t, "G"), rapid.Byte().Draw(t, "B")}
		light := c.Linear()
		if back := light.Color(); back != c {
			t.Fatalf("%v came back as %v", c, back)
		}
		lab := c.Lab()
		if back := lab.Linear(); math.Abs(back[0]-light[0])+math.Abs(back[1]-light[1])+math.Abs(back[2]-light[2]) > 1e-6 {
			t.Fatalf("%v is %v in linear light, by way of L*a*b* %v", c, light, back)
		}
		if got := light.Lab(); math.Abs(got.L-lab.L)+math.Abs(got.A-lab.A)+math.Abs(got.B-lab.B) > 1e-6 {
			t.Fatalf("%v is %v, by way of linear light %v", c, lab, got)
		}
		if got := Lightness(light.Luminance()); math.Abs(got-lab.L) > 0.01 {
			t.Fatalf("%v has L* %.4f, by its luminance %.4f", c, lab.L, got)
		}
	})
}

// Luminance is the second row of the sRGB matrix of IEC 61966-2-1 (0.2126, 0.7152, 0.0722), L* 50 is a
// luminance of 0.184187 (CIE 15), and the two branches of L* meet at 8.
func TestLuminance(t *testing.T) {
	for _, c := range []struct {
		light Linear
		want  float64
	}{
		{Linear{1, 0, 0}, 0.2126}, {Linear{0, 1, 0}, 0.7152}, {Linear{0, 0, 1}, 0.0722},
		{Linear{1, 1, 1}, 1}, {Linear{}, 0},
	} {
		if got := c.light.Luminance(); math.Abs(got-c.want) > 1e-4 {
			t.Errorf("%v has a luminance of %.5f, want %.4f", c.light, got, c.want)
		}
	}
	for _, c := range [][2]float64{{0, 0}, {0.184187, 50}, {1, 100}, {216.0 / 24389, 8}, {108.0 / 24389, 4}} {
		if got := Lightness(c[0]); math.Abs(got-c[1]) > 1e-3 {
			t.Errorf("a luminance of %g is L* %.4f, want %g", c[0], got, c[1])
		}
	}
}
