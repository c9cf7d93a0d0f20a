package layers

import (
	"math"
	"strings"
	"testing"

	"panecore/layers/jsonio"
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
		{"25 °C", 25}, {"25°C", 25}, {" 77 °F ", 25}, {"24.5c", 24.5}, {"24,5 °C", 24.5}, {"+25C", 25}, {".5C", 0.5},
	} {
		got, err := ParseTemperature(test.in)
		if err != nil || math.Abs(got-test.want) > 1e-12 {
			t.Errorf("ParseTemperature(%q) = %v, %v, want %v", test.in, got, err, test.want)
		}
	}
}

func TestParseTemperature_refused(t *testing.T) {
	for _, in := range []string{"", "25", "C", "°C", "25K", "25 degrees", "1,000C", "24.5,0C", "1e3C", "0x10C", "NaNC", "InfF", "1_0C", "2 5C", "--5C", "25CC", "25°", strings.Repeat("9", 400) + "C"} {
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

func TestParseNumber(t *testing.T) {
	for in, want := range map[string]float64{
		"7.4": 7.4, "7,4": 7.4, " 7,40 ": 7.4, "-0,5": -0.5, "+2": 2, ".5": 0.5, ",5": 0.5, "0,125": 0.125, "12,5000": 12.5, "1000": 1000, "1,0000": 1,
	} {
		if got, err := ParseNumber(in); err != nil || got != want {
			t.Errorf("ParseNumber(%q) = %v, %v, want %v", in, got, err, want)
		}
	}
}

func TestParseNumber_refused(t *testing.T) {
	const number, comma = "a number such as 7.4", "a decimal point instead, or no comma: it may part decimals or thousands"
	for in, want := range map[string]string{
		"": number, "seven": number, "7.4.1": number, "1,000.5": number, "1.000,5": number, "1,000,000": number, "7 4": number, "1e3": number,
		"NaN": number, "Inf": number, "0x10": number, "1_0": number, "--1": number, "7.4 mg/L": number, strings.Repeat("9", 400): number,
		"1,000": comma, "-12,345": comma, "999,999": comma,
	} {
		fault := Fault{Found: jsonio.Quote(in), Want: want}
		if got, err := ParseNumber(in); err != error(fault) {
			t.Errorf("ParseNumber(%q) = %v, %v, want %v", in, got, err, fault)
		}
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, seed := range []string{"7.4", "7,4", "1,000", "-.5", "1e3", ""} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		value, err := ParseNumber(s)
		if err != nil {
			return
		}
		if math.IsNaN(value) || math.IsInf(value, 0) {
			t.Errorf("ParseNumber(%q) = %v", s, value)
		}
		if point, err := ParseNumber(strings.ReplaceAll(s, ",", ".")); err != nil || point != value {
			t.Errorf("ParseNumber(%q) = %v, with a point %v, %v", s, value, point, err)
		}
	})
}

func TestParseShare(t *testing.T) {
	for in, want := range map[string]float64{"25%": 0.25, " 2,5 % ": 0.025, "0%": 0, "100%": 1, "0.5%": 0.005, "7%": 0.07} {
		if got, err := ParseShare(in); err != nil || math.Abs(got-want) > 1e-15 {
			t.Errorf("ParseShare(%q) = %v, %v, want %v", in, got, err, want)
		}
	}
	for _, in := range []string{"", "25", "%", "a quarter", "0.25", "25%%", "1e1%", "1,000%"} {
		if got, err := ParseShare(in); err == nil || !strings.HasPrefix(err.Error(), "found share "+jsonio.Quote(in)+", want a ") {
			t.Errorf("ParseShare(%q) = %v, %v, want it refused", in, got, err)
		}
	}
}

func TestParsePercentage(t *testing.T) {
	for in, want := range map[string]float64{"25": 0.25, " 2,5 % ": 0.025, "0": 0, "100%": 1} {
		if got, err := ParsePercentage(in); err != nil || math.Abs(got-want) > 1e-15 {
			t.Errorf("ParsePercentage(%q) = %v, %v, want %v", in, got, err, want)
		}
	}
	for _, in := range []string{"", "%", "half", "0.25", "0,5 %", "-1", "101", "1,000"} {
		if got, err := ParsePercentage(in); err == nil {
			t.Errorf("ParsePercentage(%q) = %v, want it refused", in, got)
		}
	}
}

func TestParseSize(t *testing.T) {
	if got, err := ParseSize("1,8cm"); err != nil || got != 18 {
		t.Errorf("got %v, %v, want 18", got, err)
	}
	for _, in := range []string{"0mm", "-1mm", "18", "1,000mm"} {
		if got, err := ParseSize(in); err == nil {
			t.Errorf("ParseSize(%q) = %v, want an error", in, got)
		}
	}
}
