package layers

import (
	"math"
	"strings"
	"testing"
)

// The fixed points of both scales: water freezes at 0 °C or 32 °F and boils at
// 100 °C or 212 °F (from memory); the rest follows by 1.8 °F to 1 °C.
func TestParseTemperature(t *testing.T) {
	for _, test := range []struct {
		in   string
		want float64
	}{
		{"0C", 0}, {"32F", 0}, {"100C", 100}, {"212F", 100},
		{"25C", 25}, {"77F", 25}, {"-40F", -40}, {"-40C", -40},
		{"25 °C", 25}, {"25°C", 25}, {" 77 °F ", 25}, {"24.5c", 24.5}, {"+25C", 25}, {".5C", 0.5},
	} {
		got, err := ParseTemperature(test.in)
		if err != nil || math.Abs(got-test.want) > 1e-12 {
			t.Errorf("ParseTemperature(%q) = %v, %v, want %v", test.in, got, err, test.want)
		}
	}
}

func TestParseTemperature_refused(t *testing.T) {
	for _, in := range []string{"", "25", "C", "°C", "25K", "25 degrees", "24,5C", "1e3C", "0x10C", "NaNC", "InfF", "1_0C", "2 5C", "--5C", "25CC", "25°", strings.Repeat("9", 400) + "C"} {
		if got, err := ParseTemperature(in); err == nil {
			t.Errorf("ParseTemperature(%q) = %v, want an error", in, got)
		} else if !strings.HasPrefix(err.Error(), "found temperature ") || strings.Contains(err.Error(), "\n") {
			t.Errorf("ParseTemperature(%q): %v", in, err)
		}
	}
}

func FuzzParseTemperature(f *testing.F) {
	for _, seed := range []string{"25C", "77F", "25 °C", "25", "1e400C", "-.F"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		celsius, err := ParseTemperature(s)
		if err == nil && (math.IsNaN(celsius) || math.IsInf(celsius, 0)) {
			t.Errorf("ParseTemperature(%q) = %v", s, celsius)
		}
		if err == nil && !strings.ContainsAny(s, "cCfF") {
			t.Errorf("ParseTemperature(%q) guessed a unit", s)
		}
	})
}
