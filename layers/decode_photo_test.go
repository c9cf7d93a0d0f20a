package layers

import (
	"bytes"
	"os"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/palette"
)

// photoDocument is a document of a core that was read from a photo.
const photoDocument = `{
  "format": "panecore/1",
  "tanks": [
    {
      "id": "kettle",
      "cores": [
        {
          "date": "2026-11-01",
          "station": "front",
          "photo": {"sha256": "` + testSum + `", "colour_doubt": 4, "light": {"ev": 0.3, "ev_doubt": 0.4, "veil": 0.02, "veil_doubt": 0.02}, "scale_error": 0.004, "surface": {"error_mm": 0.2, "highest_mm": -1.1, "lowest_mm": 1.3}},
          "layers": [
            {"thickness_mm": 12, "hex": "#8b5e3c", "edge": {"error_mm": 0.3, "highest_mm": 11, "lowest_mm": 13.2}},
            {"thickness_mm": 4, "hex": "#b4552a"}
          ]
        }
      ]
    }
  ]
}
`

// testSum is the SHA-256 of the three letters "abc" (FIPS 180-2, appendix B.1).
const testSum = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

func photoCore() Core {
	return Core{
		Date: mustDate("2026-11-01"), Station: "front",
		Photo: &Photo{SHA256: testSum, ColorDoubt: 4, Light: palette.Light{EV: 0.3, EVDoubt: 0.4, Veil: 0.02, VeilDoubt: 0.02},
			ScaleError: 0.004, Surface: Edge{ErrorMM: 0.2, HighestMM: -1.1, LowestMM: 1.3}},
		Layers: []Layer{
			{ThicknessMM: 12, Color: palette.Color{R: 0x8b, G: 0x5e, B: 0x3c}, Edge: &Edge{ErrorMM: 0.3, HighestMM: 11, LowestMM: 13.2}},
			{ThicknessMM: 4, Color: palette.Color{R: 0xb4, G: 0x55, B: 0x2a}},
		},
	}
}

func TestDecode_photo(t *testing.T) {
	want := []Tank{{ID: "kettle", Cores: []Core{photoCore()}}}
	got, err := Decode(strings.NewReader(photoDocument), today)
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %v, want %+v", got, err, want)
	}
	var document bytes.Buffer
	if err := Encode(&document, want); err != nil || document.String() != photoDocument {
		t.Errorf("got %s, %v, want %s", &document, err, photoDocument)
	}
}

// A photo that was not kept has no checksum, and a doubt of none is written all the same.
func TestEncode_photoNotKept(t *testing.T) {
	core := Core{Date: mustDate("2026-11-01"), Station: "front", Photo: &Photo{}, Layers: []Layer{{ThicknessMM: 1, Edge: &Edge{}}}}
	var document bytes.Buffer
	if err := Encode(&document, []Tank{{ID: "a", Cores: []Core{core}}}); err != nil {
		t.Fatal(err)
	}
	const edge = `{"error_mm": 0, "highest_mm": 0, "lowest_mm": 0}`
	for _, want := range []string{
		`"photo": {"colour_doubt": 0, "light": {"ev": 0, "ev_doubt": 0, "veil": 0, "veil_doubt": 0}, "scale_error": 0, "surface": ` + edge + `},`,
		`{"thickness_mm": 1, "hex": "#000000", "edge": ` + edge + `}`,
	} {
		if !strings.Contains(document.String(), want) {
			t.Errorf("got %s, want %s", &document, want)
		}
	}
	checkAgain(t, document.Bytes(), []Tank{{ID: "a", Cores: []Core{core}}})
}

// What is so for most cores is not written, but may be read.
func TestDecode_leftOut(t *testing.T) {
	want := []Tank{{ID: "kettle", Cores: []Core{photoCore()}}}
	told := strings.NewReplacer(`"station": "front",`, `"station": "front", "sure": false,`, `"colour_doubt"`, `"reliable": true, "colour_doubt"`).Replace(photoDocument)
	got, err := Decode(strings.NewReader(told), today)
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %v, want %+v from %s", got, err, want, told)
	}
	want[0].Cores[0].Sure, want[0].Cores[0].Photo.Unreliable = true, true
	var document bytes.Buffer
	if err := Encode(&document, want); err != nil {
		t.Fatal(err)
	}
	for _, field := range []string{"\n          \"sure\": true,\n", `, "reliable": false},`} {
		if !strings.Contains(document.String(), field) {
			t.Errorf("got %s, want %s", &document, field)
		}
	}
	checkAgain(t, document.Bytes(), want)
}

// The document in the manual reads, and is written as it stands there. It has every field.
func TestDecode_manual(t *testing.T) {
	source, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	var document strings.Builder
	for line := range strings.Lines(string(source)) {
		if code, ok := strings.CutPrefix(line, "//\t"); ok {
			document.WriteString(code)
		}
	}
	text, _, _ := strings.Cut(document.String(), "\n}\n")
	text += "\n}\n"
	tanks, err := Decode(strings.NewReader(text), today)
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	var again bytes.Buffer
	if err := Encode(&again, tanks); err != nil || again.String() != text {
		t.Errorf("got %s, %v, want %s", &again, err, text)
	}
	zero := map[string]bool{}
	noteZeros(reflect.ValueOf(tanks), "", zero)
	delete(zero, "Vessel.DiameterMM") // a box has none
	for name, is := range zero {
		if is {
			t.Errorf("the document of the manual has no %s", name)
		}
	}
}

// noteZeros notes for each field of the structs in v whether it is zero wherever it stands.
func noteZeros(v reflect.Value, name string, zero map[string]bool) {
	if former, known := zero[name]; name != "" && (former || !known) {
		zero[name] = v.IsZero()
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			noteZeros(v.Elem(), "", zero)
		}
	case reflect.Slice:
		for i := range v.Len() {
			noteZeros(v.Index(i), "", zero)
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[palette.Color]() {
			return
		}
		for i := range v.NumField() {
			noteZeros(v.Field(i), v.Type().Name()+"."+v.Type().Field(i).Name, zero)
		}
	}
}

func anyPhoto(t *rapid.T) Photo {
	return Photo{
		SHA256:     rapid.OneOf(rapid.Just(""), rapid.StringMatching(`[0-9a-f]{64}`)).Draw(t, "sha256"),
		ColorDoubt: within(colorDoubtRange).Draw(t, "colour doubt"),
		Light: palette.Light{
			EV: within(evRange).Draw(t, "ev"), EVDoubt: within(evDoubtRange).Draw(t, "ev doubt"),
			Veil: within(veilRange).Draw(t, "veil"), VeilDoubt: within(veilDoubtRange).Draw(t, "veil doubt"),
		},
		ScaleError: within(scaleErrorRange).Draw(t, "scale error"),
		Surface:    rapid.Custom(anyEdge).Draw(t, "surface"),
		Unreliable: rapid.Bool().Draw(t, "unreliable"),
	}
}

func anyEdge(t *rapid.T) Edge {
	a, b := within(reliefRange).Draw(t, "one depth"), within(reliefRange).Draw(t, "another depth")
	return Edge{ErrorMM: within(depthRange).Draw(t, "error"), HighestMM: min(a, b), LowestMM: max(a, b), Contrast: within(contrastRange).Draw(t, "contrast"), Fineness: within(finenessRange).Draw(t, "fineness")}
}
