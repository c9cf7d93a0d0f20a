package layers

import (
	"bytes"
	"errors"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"

	"panecore/palette"
)

// One core as spreadsheets of several countries save or copy it.
func TestReadSheet(t *testing.T) {
	want := []Layer{
		{ThicknessMM: 12.5, Color: palette.Color{R: 0x8b, G: 0x5e, B: 0x3c}, Note: "a few worms, two"},
		{ThicknessMM: 4, Color: palette.Color{R: 0xb4, G: 0x55, B: 0x2a}, Band: palette.Rust},
	}
	for name, table := range map[string]string{
		"commas":                  "thickness_mm,hex,band,note\n12.5,#8b5e3c,,\"a few worms, two\"\n4,#b4552a,rust,\n",
		"another order":           "note,Band,HEX,Thickness_MM\n\"a few worms, two\",,#8b5e3c,12.5\n,Rust,#B4552A,4\n",
		"semicolons":              "thickness_mm;colour;band;note\n12,5;#8b5e3c;;a few worms, two\n4,0;#b4552a;rust;\n",
		"tabs":                    "thickness_mm\tcolor\tband\tnote\n12,5\t#8b5e3c\t\ta few worms, two\n4\t#b4552a\trust\t\n",
		"rows that end early":     "thickness_mm\thex\tnote\tband\n12.5\tmulm1\ta few worms, two\n4\t#b4552a\t\trust",
		"units in the cells":      "thickness;hex;note;band\n1,25 cm;#8b5e3c;a few worms, two\n4 mm;#b4552a;;rust\n",
		"a heading with its unit": "Thickness (mm);Hex;Note;Band\n12,5;#8b5e3c;a few worms, two\n4;#b4552a;;rust\n",
		"quoted decimal comma":    "thickness_mm, hex, note, band\n\"12,5\", mulm1, \"a few worms, two\"\n4, #b4552a, , rust\n",
		"mark, CRLF, empty rows": "\ufeff\r\nthickness_mm;hex;note;band;;\r\n\r\n12,5;#8b5e3c;a few worms, two;;;\r\n;;;;;\r\n   \r\n" +
			"4;#b4552a;;rust;;\r\n\r\n",
	} {
		if got, err := ReadSheet(strings.NewReader(table), swatches); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: got %+v, %v", name, got, err)
		}
	}
}

func TestReadSheet_refused(t *testing.T) {
	const color = `want '#' and six hexadecimal digits, as in #8b5e3c, or the name of a swatch`
	for table, want := range map[string]string{
		"":                                   "table: found nothing, want headings, such as thickness_mm and hex, and a row a layer",
		"\n;;\n":                             "table: found nothing, want headings, such as thickness_mm and hex, and a row a layer",
		"thickness_mm,hex\n":                 "table: found no row below the headings, want a row a layer",
		"12,#8b5e3c\n":                       "headings: found unknown heading \"12\", want thickness_mm, thickness, hex, colour, color, band or note\nheadings: found unknown heading \"#8b5e3c\", want thickness_mm, thickness, hex, colour, color, band or note",
		"thickness_mm,hexx\n":                `headings: found unknown heading "hexx", want a known one: did you mean hex?`,
		"thickness_mm,hex,depth\n":           `headings: found unknown heading "depth", want thickness_mm, thickness, hex, colour, color, band or note`,
		"thickness_mm,note\n":                "headings: found no hex, want a column of it",
		"note\nx\n":                          "headings: found no thickness_mm, want a column of it\nheadings: found no hex, want a column of it",
		"hex,thickness_mm,Colour\n":          `headings: found "Colour", a second column of the same, want one`,
		"hex,thickness_mm,thickness\n":       `headings: found "thickness", a second column of the same, want one`,
		"thickness_mm,hex\n12,#8b5e3\n":      `row 2, hex: found "#8b5e3", ` + color,
		"thickness_mm;Colour\r\n\r\n12;\r\n": `row 3, Colour: found nothing, ` + color,
		"thickness_mm,hex\n-3,#8b5e3c\n0,#8b5e3c\n":              "row 2, thickness_mm: found \"-3\", want a number above 0 and up to 2000 mm\nrow 3, thickness_mm: found \"0\", want a number above 0 and up to 2000 mm",
		"thickness_mm,hex\n12 mm,#8b5e3c\n":                      `row 2, thickness_mm: found "12 mm", want a number above 0 and up to 2000 mm`,
		"hex,thickness\n#8b5e3c,12\n":                            `row 2, thickness: found "12", want a number with its unit, as in 18mm, 1.8cm, 0.7in or 0.7"`,
		"hex,thickness\n#8b5e3c,3 m\n":                           `row 2, thickness: found "3 m", want a number with its unit, as in 18mm, 1.8cm, 0.7in or 0.7"`,
		"thickness_mm,hex,band\n12,#8b5e3c,rusty\n":              `row 2, band: found "rusty", want a known one: did you mean rust?`,
		"thickness_mm,hex\n12,5,#8b5e3c\n":                       "row 2, hex: found \"5\", " + color + "\nrow 2: found \"#8b5e3c\" in column 3, want no cell without a heading (a number with a decimal comma stands in quote marks here)",
		"thickness_mm;hex;\n12;#8b5e3c;worms\n":                  `row 2: found "worms" in column 3, want no cell without a heading`,
		"thickness_mm;hex;note\n12;#8b5e3c;a \"few\" worms\n":    `row 2: found a quote mark out of place, want a cell with quote marks in it to stand in quote marks, each within it doubled`,
		"thickness_mm;hex;note\n12;#8b5e3c;\"a few\n4;#b4552a\n": `row 3: found a quote mark out of place, want a cell with quote marks in it to stand in quote marks, each within it doubled`,
		"thickness_mm;hex;note\n12;#8b5e3c;a\x00b\n":             `row 2, note: found the control character U+0000, want at most 4000 characters, no control characters but newline and tab`,
		"thickness_mm;hex\n12;#8b5e3c\xff\n":                     "table: found bytes that are no UTF-8 text, want a table saved as UTF-8",
		strings.Repeat("\n", maxSheet+1):                         "table: found more than 1 MiB, want the layers of one core",
	} {
		got, err := ReadSheet(strings.NewReader(table), swatches)
		if got != nil || err == nil || faultsOf(t, err).Error() != want {
			t.Errorf("%.60q: got %+v, %v\nwant %s", table, got, err, want)
		}
	}
}

func TestReadSheet_countsFaults(t *testing.T) {
	table := "thickness_mm,hex\n" + strings.Repeat("thick,#8b5e3c\n", MaxFaults+5)
	_, err := ReadSheet(strings.NewReader(table), swatches)
	faults := faultsOf(t, err)
	if len(faults) != MaxFaults+1 || faults[MaxFaults].Error() != "further faults: 5" {
		t.Errorf("got %d lines: %v", len(faults), err)
	}
}

func TestReadSheet_readerFails(t *testing.T) {
	broken := errors.New("no paper")
	if _, err := ReadSheet(iotest.ErrReader(broken), swatches); !errors.Is(err, broken) {
		t.Errorf("got %v", err)
	}
}

func FuzzReadSheet(f *testing.F) {
	for _, seed := range []string{
		"thickness_mm,hex,band,note\n12.5,#8b5e3c,,\"a few worms, two\"\n4,#b4552a,rust,\n", "\ufeffthickness;colour\r\n1,2 cm;mulm1\r\n",
		"thickness_mm\tcolor\n12\t\"#8b5e3c\"\n", "hex\n\"", "a,b\n\n,,,,\n", "hex,thickness\n#8b5e3c,0.7\"\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, table []byte) {
		list, err := ReadSheet(bytes.NewReader(table), swatches)
		if err == nil {
			if (Core{Layers: list}).DepthMM() <= maxBedMM {
				checkTaken(t, list)
			}
			return
		}
		for _, fault := range faultsOf(t, err) {
			if strings.ContainsAny(fault.Error(), "\n\r") {
				t.Errorf("refused as %q", fault)
			}
		}
	})
}
