package layers_test

import (
	"math"
	"strings"
	"testing"

	"panecore/layers"
)

// A name is taken for another with one letter in three wrong, two at most, and up to 40 letters long; or for
// one that it is a part of, from three letters on.
func TestNearest_bounds(t *testing.T) {
	long := strings.Repeat("x", 39)
	known := []string{"station", "set_up", "oxygen_mg_l", "day", long + "y"}
	for name, want := range map[string]string{
		"statoin":     "station", // two
		"sttaoin":     "",        // three and more
		"oxigen_mk_l": "oxygen_mg_l",
		"oxigem_mk_l": "", // three of eleven
		"sat_up":      "set_up",
		"sat_ub":      "set_up",
		"dax":         "day",
		"dxx":         "",
		"da":          "", // a part, but too short to tell
		"oxy":         "oxygen_mg_l",
		"STATION":     "station",
		long + "z":    long + "y",
		long + "zz":   "", // 41 letters
		long[:12]:     long + "y",
		"":            "",
	} {
		if got := layers.Nearest(name, known); got != want {
			t.Errorf("%q is taken for %q, want %q", name, got, want)
		}
	}
}

// What was taken away, mixed or covered is no longer there to grow; other events leave it.
func TestEventKind_splits(t *testing.T) {
	breaks := map[layers.EventKind]bool{"siphon": true, "stir": true, "top-up-substrate": true}
	for _, kind := range layers.EventKinds() {
		if kind.Splits() != breaks[kind] {
			t.Errorf("%s breaks a record: %t", kind, kind.Splits())
		}
		delete(breaks, kind)
	}
	if len(breaks) > 0 {
		t.Errorf("no such kinds of event: %v", breaks)
	}
}

// A box of 600 × 300 mm has a floor of 0.18 m² and with 350 mm of water 63 litres; a cylinder 200 mm across
// has π/100 m².
func TestVessel_size(t *testing.T) {
	box := layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 300, WaterDepthMM: 350}
	cylinder := layers.Vessel{Shape: layers.Cylinder, DiameterMM: 200, WaterDepthMM: 500}
	for _, c := range [][2]float64{
		{box.FootprintM2(), 0.18}, {box.WaterM3(), 0.063},
		{cylinder.FootprintM2(), math.Pi / 100}, {cylinder.WaterM3(), math.Pi / 200},
	} {
		if math.Abs(c[0]-c[1]) > 1e-12 {
			t.Errorf("got %g, want %g", c[0], c[1])
		}
	}
}

// A number too large for any computer is no length, on either side of zero.
func TestParseLength_infinite(t *testing.T) {
	huge := strings.Repeat("9", 400)
	for _, s := range []string{huge + "mm", "-" + huge + "mm", huge + " in", "-" + huge + "cm"} {
		if mm, err := layers.ParseLength(s); err == nil {
			t.Errorf("%.5s…%s is read as %g mm", s, s[len(s)-2:], mm)
		}
	}
}
