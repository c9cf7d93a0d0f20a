package layers

import (
	"math"
	"strings"
	"testing"
)

// A lightness of 50 is a luminance of 0.1842 by CIE 15:2004, eq. 8.3: ((50 + 16) / 116)³.
func TestParseReflectance(t *testing.T) {
	for in, want := range map[string]float64{
		"18%": 0.18, "18 %": 0.18, " 17,5 % ": 0.175, "100%": 1, ".5%": 0.005,
		"L=50": math.Pow(66.0/116, 3), "l=50": math.Pow(66.0/116, 3), "L=100": 1,
	} {
		if got, err := ParseReflectance(in); err != nil || math.Abs(got-want) > 1e-6 {
			t.Errorf("ParseReflectance(%q) = %v, %v, want %v", in, got, err, want)
		}
	}
}

func TestParseReflectance_refused(t *testing.T) {
	for _, in := range []string{"", "18", "%", "L=", "0%", "-3%", "101%", "L=0", "L=101", "NaN%", "L=NaN", "Inf%", "1e1%", "L=50%", "0x1%", "18%%"} {
		got, err := ParseReflectance(in)
		if err == nil {
			t.Errorf("ParseReflectance(%q) = %v, want an error", in, got)
			continue
		}
		if !strings.Contains(err.Error(), "18%") || strings.Contains(err.Error(), "\n") {
			t.Errorf("ParseReflectance(%q): %v", in, err)
		}
	}
}
