package layers

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A part is written as it stands in the document, but for the line breaks.
func TestAppend_asInDocument(t *testing.T) {
	tank := contractTank()
	tank.Cores = append(tank.Cores, photoCore())
	var document bytes.Buffer
	if err := Encode(&document, []Tank{tank}); err != nil {
		t.Fatal(err)
	}
	oneLine := strings.Join(strings.Fields(document.String()), " ")
	for name, write := range map[string]func() ([]byte, error){
		"layers": func() ([]byte, error) { return AppendLayers(nil, tank.Cores[0].Layers) },
		"photo":  func() ([]byte, error) { return AppendPhoto(nil, tank.Cores[1].Photo) },
		"native": func() ([]byte, error) { return AppendNative(nil, tank.Native) },
		"limits": func() ([]byte, error) { return AppendLimits(nil, tank.Limits) },
	} {
		part, err := write()
		if err != nil {
			t.Fatal(name, err)
		}
		want := strings.NewReplacer("[{", "[ {", "}]", "} ]").Replace(string(part))
		if !strings.Contains(oneLine, `"`+name+`": `+want) {
			t.Errorf("%s: got %s", name, part)
		}
	}
}

func TestPartDecoder_roundTrip(t *testing.T) {
	p := NewPartDecoder()
	rapid.Check(t, func(t *rapid.T) {
		tank := rapid.Custom(anyTank).Draw(t, "tank")
		for _, core := range tank.Cores {
			part, err := AppendLayers([]byte("kept "), core.Layers)
			checkPart(t, part, err, core.Layers, p.Layers)
			if core.Photo != nil {
				part, err := AppendPhoto([]byte("kept "), core.Photo)
				checkPart(t, part, err, core.Photo, p.Photo)
			}
		}
		part, err := AppendNative([]byte("kept "), tank.Native)
		checkPart(t, part, err, tank.Native, p.Native)
		part, err = AppendLimits([]byte("kept "), tank.Limits)
		checkPart(t, part, err, tank.Limits, p.Limits)
	})
}

func checkPart[T any](t *rapid.T, part []byte, err error, want T, read func([]byte) (T, error)) {
	if err != nil {
		t.Fatal(err)
	}
	if got, err := read(part[len("kept "):]); err != nil || !reflect.DeepEqual(got, want) {
		t.Fatalf("got %+v, %v, want %+v from %s", got, err, want, part)
	}
}

// A decoder reads on after a fault as if there had been none.
func TestPartDecoder_faults(t *testing.T) {
	p := NewPartDecoder()
	for text, want := range map[string]string{
		`[{"thickness_mm": -3, "hex": "#8b5e3c"}]`:         `[0].thickness_mm: found -3, want a number above 0 and up to 2000 mm`,
		`[{"thickness_mm": 3, "hex": "#8b5e3c"}`:           `line 1, column 39: found the end of the document, want its rest: it seems cut off`,
		`[{"thickness_mm": 3, "hex": "#8b5e3c"}] []`:       `line 1, column 41: found [, want nothing after the document`,
		`[{"thickness_mm": 3, "hex": "#8b5e3c", "b": ""}]`: `[0]: found unknown field "b", want one of thickness_mm, hex, band, note, edge`,
	} {
		if _, err := p.Layers([]byte(text)); err == nil || err.Error() != want {
			t.Errorf("%s: got %v, want %s", text, err, want)
		}
		if good, err := p.Layers([]byte(`[{"thickness_mm": 3, "hex": "#8b5e3c"}]`)); err != nil || len(good) != 1 {
			t.Errorf("after %s: got %v, %v", text, good, err)
		}
	}
}

func FuzzPartDecoder(f *testing.F) {
	f.Add([]byte(`[{"thickness_mm": 12, "hex": "#8b5e3c", "band": "rust", "note": "ragged"}]`))
	f.Add([]byte(`[{"name": "pale sand", "kind": "sand", "hex": "#d9cba6", "thickness_mm": 60}]`))
	f.Add([]byte(`{"mulm_mm": 50}`))
	f.Add([]byte(`{"sha256": "` + testSum + `", "colour_doubt": 4, "light": {"ev": 0.3, "ev_doubt": 0.4, "veil": 0, "veil_doubt": 0}, ` +
		`"scale_error": 0.004, "surface": {"error_mm": 0.2, "highest_mm": -1.1, "lowest_mm": 1.3}}`))
	f.Add([]byte(`{"colour_doubt": 4, "light": {"ev": 0, "ev_doubt": 0, "veil": 0, "veil_doubt": 0}, ` +
		`"scale_error": 0, "surface": {"error_mm": 0, "highest_mm": 0, "lowest_mm": 0}, "reliable": false}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		p := NewPartDecoder()
		if list, err := p.Layers(text); err == nil {
			part, err := AppendLayers(nil, list)
			checkFuzzed(t, part, err, list, p.Layers)
		}
		if list, err := p.Native(text); err == nil {
			part, err := AppendNative(nil, list)
			checkFuzzed(t, part, err, list, p.Native)
		}
		if limits, err := p.Limits(text); err == nil {
			part, err := AppendLimits(nil, limits)
			checkFuzzed(t, part, err, limits, p.Limits)
		}
		if photo, err := p.Photo(text); err == nil {
			part, err := AppendPhoto(nil, photo)
			checkFuzzed(t, part, err, photo, p.Photo)
		}
	})
}

func checkFuzzed[T any](t *testing.T, part []byte, err error, want T, read func([]byte) (T, error)) {
	if err != nil {
		t.Fatalf("what was read can't be written: %v", err)
	}
	if got, err := read(part); err != nil || !reflect.DeepEqual(got, want) {
		t.Fatalf("got %+v, %v, want %+v from %s", got, err, want, part)
	}
}
