package layers

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/palette"
)

// swatches are colours that a keeper has given names.
func swatches(name string) (palette.Color, bool) {
	color, ok := map[string]palette.Color{"mulm1": {R: 0x8b, G: 0x5e, B: 0x3c}, "Müll-2": {R: 1, G: 2, B: 3}}[name]
	return color, ok
}

// An inch is 25.4 mm, by the international agreement of 1959.
func TestParseLength(t *testing.T) {
	for _, test := range []struct {
		in   string
		want float64
	}{
		{"18mm", 18}, {"1.8cm", 18}, {"1,8cm", 18}, {"1.8 cm", 18}, {" 18 MM ", 18}, {"0.7in", 17.78}, {`0.7"`, 17.78},
		{"0,7 in", 17.78}, {"1in", 25.4}, {".5mm", 0.5}, {"+2mm", 2}, {"-3mm", -3}, {"0mm", 0}, {"-0mm", 0},
		{"600mm", 600}, {"0.1cm", 1}, {"12,25mm", 12.25},
	} {
		if got, err := ParseLength(test.in); err != nil || got != test.want || math.Signbit(got) != (test.want < 0) {
			t.Errorf("ParseLength(%q) = %v, %v, want %v", test.in, got, err, test.want)
		}
	}
}

func TestParseLength_refused(t *testing.T) {
	for _, in := range []string{
		"", "18", "mm", "cm", `"`, "18m", "18 millimetres", "1.800,5mm", "1,800.5mm", "1e3mm", "0x1mm", "NaNmm", "Infmm",
		"1_0mm", "1 8mm", "--3mm", "18mmm", "18mm 2", strings.Repeat("9", 400) + "mm", strings.Repeat("9", 308) + "in",
	} {
		got, err := ParseLength(in)
		if err == nil {
			t.Errorf("ParseLength(%q) = %v, want an error", in, got)
			continue
		}
		if !strings.HasPrefix(err.Error(), "found length ") || !strings.Contains(err.Error(), "18mm") || strings.Contains(err.Error(), "\n") {
			t.Errorf("ParseLength(%q): %v", in, err)
		}
	}
}

func TestParseLayer(t *testing.T) {
	brown := palette.Color{R: 0x6b, G: 0x4a, B: 0x2b}
	for in, want := range map[string]Layer{
		`18mm #6b4a2b`:                           {ThicknessMM: 18, Color: brown},
		`18 mm #6B4A2B`:                          {ThicknessMM: 18, Color: brown},
		"\t1,8 cm   #6b4a2b ":                    {ThicknessMM: 18, Color: brown},
		`0.7in #6b4a2b rust "a few worms"`:       {ThicknessMM: 17.78, Color: brown, Band: palette.Rust, Note: "a few worms"},
		`0.7" #6b4a2b "a few worms"`:             {ThicknessMM: 17.78, Color: brown, Note: "a few worms"},
		`0.7 " #6b4a2b`:                          {ThicknessMM: 17.78, Color: brown},
		`18mm #6b4a2b Mulm-Dark`:                 {ThicknessMM: 18, Color: brown, Band: palette.MulmDark},
		`18mm #6b4a2b rust ""`:                   {ThicknessMM: 18, Color: brown, Band: palette.Rust},
		`18mm #6b4a2b "the "old" root, 3" long"`: {ThicknessMM: 18, Color: brown, Note: `the "old" root, 3" long`},
		`18mm mulm1`:                             {ThicknessMM: 18, Color: palette.Color{R: 0x8b, G: 0x5e, B: 0x3c}},
		`18mm mulm1 mulm-light`:                  {ThicknessMM: 18, Color: palette.Color{R: 0x8b, G: 0x5e, B: 0x3c}, Band: palette.MulmLight},
		`18mm Müll-2`:                            {ThicknessMM: 18, Color: palette.Color{R: 1, G: 2, B: 3}},
	} {
		if got, err := ParseLayer(in, swatches); err != nil || got != want {
			t.Errorf("ParseLayer(%q) = %+v, %v, want %+v", in, got, err, want)
		}
	}
}

func TestParseLayer_refused(t *testing.T) {
	const color = `want '#' and six hexadecimal digits, as in #8b5e3c, or the name of a swatch`
	for in, want := range map[string]string{
		``:                          `thickness: found nothing, want a number with its unit, as in 18mm, 1.8cm, 0.7in or 0.7"`,
		`18 #6b4a2b`:                `thickness: found "18", want a number with its unit, as in 18mm, 1.8cm, 0.7in or 0.7"`,
		`18 "note"`:                 `thickness: found "18", want a number with its unit, as in 18mm, 1.8cm, 0.7in or 0.7"`,
		`#6b4a2b 18mm`:              `thickness: found "#6b4a2b", want a number with its unit, as in 18mm, 1.8cm, 0.7in or 0.7"`,
		`-3mm #6b4a2b`:              `thickness: found "-3mm", want a number above 0 and up to 2000 mm`,
		`0mm #6b4a2b`:               `thickness: found "0mm", want a number above 0 and up to 2000 mm`,
		`3000mm #6b4a2b`:            `thickness: found "3000mm", want a number above 0 and up to 2000 mm`,
		`18mm`:                      `colour: found nothing, want one behind the thickness, both within quotes: '18mm #6b4a2b'`,
		`18mm #6b4a2`:               `colour: found "#6b4a2", ` + color,
		`18mm rust`:                 `colour: found "rust", ` + color,
		`18mm mulm9`:                `colour: found "mulm9", ` + color,
		`18mm #6b4a2b rast`:         `band: found "rast", want a known one: did you mean rust?`,
		`18mm #6b4a2b sludge`:       `band: found "sludge", want mulm-light, mulm-dark, rust, black, grey, film-green, film-dark, mat-white, native or unknown`,
		`18mm #6b4a2b rust worms`:   `note: found "worms", want a note in double quotes behind the rest`,
		`18mm #6b4a2b "worms`:       `note: found "\"worms", want a note in double quotes behind the rest`,
		`18mm #6b4a2b "worms" rust`: `note: found "\"worms\" rust", want a note in double quotes behind the rest`,
		`18mm #6b4a2b "`:            `note: found "\"", want a note in double quotes behind the rest`,
		"18mm #6b4a2b \"a\x1bb\"":   `note: found the control character U+001B, want at most 4000 characters, no control characters but newline and tab`,
		"18mm #6b4a2b \"a\xffb\"":   `note: found bytes that are no UTF-8 text, want at most 4000 characters, no control characters but newline and tab`,
		`18mm #6b4a2b "` + strings.Repeat("é", 4001) + `"`: `note: found 4001 characters, want at most 4000 characters, no control characters but newline and tab`,
	} {
		got, err := ParseLayer(in, swatches)
		if err == nil || err.Error() != want || got != (Layer{}) {
			t.Errorf("ParseLayer(%q) = %+v, %v\nwant %s", in, got, err, want)
		}
	}
}

// A layer typed in any unit, with any of its parts left out, is read as it was meant.
func TestParseLayer_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.Custom(anyLayer).Draw(t, "layer")
		want.ThicknessMM, want.Edge = settled(max(want.ThicknessMM, 0.001)), nil // an edge is traced, not typed
		unit := rapid.SampledFrom(lengthUnits).Draw(t, "unit")
		number := fmt.Sprintf("%.9f", want.ThicknessMM/unit.mm)
		if rapid.Bool().Draw(t, "decimal comma") {
			number = strings.Replace(number, ".", ",", 1)
		}
		blank := rapid.SampledFrom([]string{"", " ", "  "}).Draw(t, "blank")
		text := number + blank + unit.name + " " + want.Color.String() + " " + want.Band.String()
		if want.Note != "" {
			text += ` "` + want.Note + `"`
		}
		if got, err := ParseLayer(text, swatches); err != nil || got != want {
			t.Fatalf("%q: got %+v, %v, want %+v", text, got, err, want)
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, seed := range []string{"18mm", "1,8 cm", `0.7"`, "18", "1e400in", "-.mm"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		mm, err := ParseLength(s)
		switch {
		case err != nil && strings.ContainsAny(err.Error(), "\n\r"):
			t.Errorf("ParseLength(%q): %v", s, err)
		case err == nil && (math.IsNaN(mm) || math.IsInf(mm, 0)):
			t.Errorf("ParseLength(%q) = %v", s, mm)
		case err == nil && !strings.ContainsAny(s, `mMiI"`):
			t.Errorf("ParseLength(%q) guessed a unit", s)
		}
	})
}

// Whatever is typed is refused in one line that names the part, or is a layer that a
// document takes.
func FuzzParseLayer(f *testing.F) {
	for _, seed := range []string{
		`18mm #6b4a2b`, `0.7" #6b4a2b rust "a few worms"`, `1,8 cm mulm1`, `18mm`, `18 "`, "18mm #6b4a2b \"\x00\"", "18mm #6b4a2b \xff",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		layer, err := ParseLayer(s, swatches)
		if err != nil {
			fault, ok := err.(Fault)
			if !ok || fault.Where == "" || strings.ContainsAny(err.Error(), "\n\r") {
				t.Errorf("%q: refused as %v", s, err)
			}
			return
		}
		checkTaken(t, []Layer{layer})
	})
}

// checkTaken has layers written to a document and read back.
func checkTaken(t *testing.T, list []Layer) {
	t.Helper()
	var document bytes.Buffer
	core := Core{Date: today, Station: "front", Layers: list}
	if err := Encode(&document, []Tank{{ID: "kettle", Cores: []Core{core}}}); err != nil {
		t.Fatal(err)
	}
	tanks, err := Decode(&document, today)
	if err != nil {
		t.Fatalf("a document refuses %+v: %v", list, err)
	}
	if !reflect.DeepEqual(tanks[0].Cores[0].Layers, list) {
		t.Fatalf("a document has %+v as %+v", list, tanks[0].Cores[0].Layers)
	}
}

func TestParseName(t *testing.T) {
	for _, good := range []string{"front", "Küche links", "<", strings.Repeat("ß", 80)} {
		if got, err := ParseName(good); err != nil || got != good {
			t.Errorf("ParseName(%q) = %q, %v", good, got, err)
		}
	}
	for _, bad := range []string{"", " front", "front ", "a\tb", "a\nb", "\xff", strings.Repeat("ß", 81)} {
		if got, err := ParseName(bad); err == nil || got != "" || !strings.Contains(err.Error(), ", want 1 to 80 characters, ") {
			t.Errorf("ParseName(%q) = %q, %v, want an error", bad, got, err)
		}
	}
}

func TestParseNote(t *testing.T) {
	for _, good := range []string{"", " a line\nand\tanother", strings.Repeat("ß", 4000)} {
		if got, err := ParseNote(good); err != nil || got != good {
			t.Errorf("ParseNote(%q) = %q, %v", good, got, err)
		}
	}
	for _, bad := range []string{"\r", "\x1b[31m", "\xc3", strings.Repeat("a", 4001)} {
		if got, err := ParseNote(bad); err == nil || got != "" || !strings.Contains(err.Error(), ", want at most 4000 characters, ") {
			t.Errorf("ParseNote(%q) = %q, %v, want an error", bad, got, err)
		}
	}
}

func TestParseSign(t *testing.T) {
	for _, sign := range Signs() {
		if got, err := ParseSign(strings.ToUpper(string(sign))); err != nil || got != sign {
			t.Errorf("ParseSign(%q) = %q, %v", sign, got, err)
		}
	}
	for in, want := range map[string]string{
		"gas-bubles": `found "gas-bubles", want a known one: did you mean gas-bubbles?`,
		"":           `found "", want gas-bubbles, egg-smell, plant-melt, dead-animal, gasping, white-threads, roots-deep or burrowers`,
	} {
		if _, err := ParseSign(in); err == nil || err.Error() != want {
			t.Errorf("ParseSign(%q): %v, want %s", in, err, want)
		}
	}
}

func faultsOf(t *testing.T, err error) Faults {
	t.Helper()
	var faults Faults
	if !errors.As(err, &faults) {
		t.Fatalf("found %v, want faults", err)
	}
	return faults
}
