package records

import (
	"math"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
)

// An inch is 25.4 mm (international yard and pound agreement of 1959).
func TestParseBox(t *testing.T) {
	for text, want := range map[string][2]float64{
		"600x300mm":      {600, 300},
		"60 x 30 cm":     {600, 300},
		"600mm x 30cm":   {600, 300},
		`24x12"`:         {609.6, 304.8},
		"24in×300mm":     {609.6, 300},
		"60,5x30.5cm":    {605, 305},
		" 600 x 300 mm ": {600, 300},
	} {
		box, err := parseBox(text)
		if err != nil || box.Shape != layers.Box || box.LengthMM != want[0] || box.WidthMM != want[1] {
			t.Errorf("%q: %+v, %v, want %v", text, box, err, want)
		}
	}
	for _, text := range []string{"600x300", "600mmx300", "600mm", "x", "", "0x300mm", "600x-300mm", "600x300x200mm", "axbmm", "x300mm"} {
		if box, err := parseBox(text); err == nil {
			t.Errorf("%q: took %+v", text, box)
		}
	}
}

func TestParseNative(t *testing.T) {
	color := palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}
	for text, want := range map[string]layers.Native{
		"#d9cba6,sand":                      {Color: color, Kind: layers.Sand},
		" #D9CBA6 , sand , 60mm ":           {Color: color, Kind: layers.Sand, ThicknessMM: 60},
		"#d9cba6,sand,6cm,pale, washed":     {Color: color, Kind: layers.Sand, ThicknessMM: 60, Name: "pale, washed"},
		"#d9cba6,sand,pale, washed, 2 bags": {Color: color, Kind: layers.Sand, Name: "pale, washed, 2 bags"},
		"#d9cba6,mud":                       {Color: color, Kind: "mud"}, // for the logbook to refuse
	} {
		if got, err := parseNative(text); err != nil || got != want {
			t.Errorf("%q: %+v, %v, want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "#d9cba6", "d9cba6,sand", "sand,#d9cba6", "#d9cba6,sand,60", "#d9cba6,sand,0mm", "#d9cba6,sand,1,8cm"} {
		if got, err := parseNative(text); err == nil {
			t.Errorf("%q: took %+v", text, got)
		}
	}
}

// Whatever is typed of a tank is taken as a size above 0 mm or refused in one line.
func FuzzSetupFlags(f *testing.F) {
	for _, text := range []string{"600x300mm", "24in x 12in", "220mm", "#d9cba6,sand,60mm,pale", "mulm_mm=60", "mulm_mm=", "=", "yes", "", "\n", "\xff"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var o setup
		box, boxErr := parseBox(text)
		cylinder, cylinderErr := parseCylinder(text)
		_, nativeErr := parseNative(text)
		_, yesErr := layers.ParseYesNo(text)
		for _, err := range []error{boxErr, cylinderErr, nativeErr, yesErr, o.addLimit(text)} {
			if err != nil && (strings.ContainsAny(err.Error(), "\n\r") || !strings.HasPrefix(err.Error(), "found ")) {
				t.Errorf("%q: refused as %q", text, err)
			}
		}
		isSize := func(mm float64) bool { return mm > 0 && !math.IsInf(mm, 0) }
		if boxErr == nil && !(isSize(box.LengthMM) && isSize(box.WidthMM)) {
			t.Errorf("%q: took a box of %v x %v mm", text, box.LengthMM, box.WidthMM)
		}
		if cylinderErr == nil && !isSize(cylinder.DiameterMM) {
			t.Errorf("%q: took a cylinder of %v mm", text, cylinder.DiameterMM)
		}
	})
}
