package layers

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func FuzzParseUnits(f *testing.F) {
	for _, seed := range []string{"mm", "in", "", "cm", "MM"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if u, err := ParseUnits(s); (err == nil) != (s == "mm" || s == "in") || err == nil && u.String() != s {
			t.Errorf("%q: found %v, %v", s, u, err)
		}
	})
}

func TestUnits_flag(t *testing.T) {
	var u Units
	if err := u.Set("in"); err != nil || u != Inches || u.String() != "in" {
		t.Errorf("found %v, %v", u, err)
	}
	if err := u.Set("cm"); err == nil || u != Inches {
		t.Errorf("cm: found %v, %v", u, err)
	}
}

func TestUnits_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.Float64Range(0, 2000).Draw(t, "mm")
		if back := Inches.Of(mm) / Inches.Of(1); math.Abs(back-mm) > 1e-9 {
			t.Fatalf("%v mm came back as %v", mm, back)
		}
	})
}

func TestUnits_Length(t *testing.T) {
	for _, c := range []struct {
		units Units
		mm    float64
		want  string
	}{
		{MM, 12.4, "12 mm"}, {MM, 16.5, "17 mm"}, {MM, 9.97, "10 mm"}, {MM, 4, "4 mm"}, {MM, 1.94, "1.9 mm"}, {MM, -0.02, "0 mm"},
		{Inches, 25.4, "1.00 in"}, {Inches, 50, "1.97 in"},
	} {
		if got := c.units.Length(c.mm); got != c.want {
			t.Errorf("%v mm in %v: %q, want %q", c.mm, c.units, got, c.want)
		}
	}
}
