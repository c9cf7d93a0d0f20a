package site

import (
	"strings"
	"testing"
)

func TestTied_numbersToUnits(t *testing.T) {
	for text, want := range map[string]string{
		"siphon, 25 %, to 20 mm":    "siphon, 25_%, to 20_mm",
		"pH 7.4, 24 °C, 1.5 mg N/L": "pH 7.4, 24_°C, 1.5_mg_N/L",
		"0.5 in/month in 3 months":  "0.5_in/month in 3 months",
		"51 L, 2 inlets":            "51_L, 2 inlets",
	} {
		if got := strings.ReplaceAll(tied(text), Unbroken, "_"); got != want {
			t.Errorf("%q: found %q, want %q", text, got, want)
		}
	}
}
