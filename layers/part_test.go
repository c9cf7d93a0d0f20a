package layers

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// columnNamed is the column of a record's table.
func columnNamed[R any](t testing.TB, fields []Field[R], name string) Column[R] {
	t.Helper()
	for _, f := range fields {
		for _, c := range f.Columns() {
			if c.Name == name {
				return c
			}
		}
	}
	t.Fatalf("no column %s", name)
	return Column[R]{}
}

// A part is written as it stands in the document, but for the line breaks.
func TestColumn_Value_asInDocument(t *testing.T) {
	tank := contractTank()
	tank.Cores = append(tank.Cores, photoCore())
	var document bytes.Buffer
	if err := Encode(&document, []Tank{tank}); err != nil {
		t.Fatal(err)
	}
	oneLine := strings.Join(strings.Fields(document.String()), " ")
	for name, part := range map[string]any{
		"layers": columnNamed(t, CoreFields(), "layers").Value(&tank.Cores[0]),
		"photo":  columnNamed(t, CoreFields(), "photo").Value(&tank.Cores[1]),
		"native": columnNamed(t, TankFields(), "native").Value(&tank),
		"limits": columnNamed(t, TankFields(), "limits").Value(&tank),
	} {
		want := strings.NewReplacer("[{", "[ {", "}]", "} ]").Replace(part.(string))
		if !strings.Contains(oneLine, `"`+name+`": `+want) {
			t.Errorf("%s: got %s", name, part)
		}
	}
}

// What the columns of a record hold is the record, but for what is kept apart.
func TestColumn_Scan_roundTrip(t *testing.T) {
	p := NewPartDecoder()
	rapid.Check(t, func(t *rapid.T) {
		tank := rapid.Custom(anyTank).Draw(t, "tank")
		for _, core := range tank.Cores {
			checkColumns(t, p, CoreFields(), core)
		}
		for _, test := range tank.Water {
			checkColumns(t, p, WaterFields(), test)
		}
		for _, event := range tank.Events {
			checkColumns(t, p, EventFields(), event)
		}
		tank.ID, tank.Cores, tank.Water, tank.Events = "", nil, nil, nil
		checkColumns(t, p, TankFields(), tank)
	})
}

// failer is a *testing.T or *rapid.T.
type failer interface {
	Fatalf(format string, args ...any)
}

func checkColumns[R any](t failer, p PartDecoder, fields []Field[R], want R) {
	var got R
	for _, f := range fields {
		for _, c := range f.Columns() {
			if err := c.Scan(p, &got, c.Value(&want)); err != nil {
				t.Fatalf("%s: %v from %v", c.Name, err, c.Value(&want))
			}
		}
	}
	if !reflect.DeepEqual(got, want) {
		t.Fatalf("got %+v, want %+v", got, want)
	}
}

// A decoder reads on after a fault as if there had been none.
func TestColumn_Scan_faults(t *testing.T) {
	p := NewPartDecoder()
	column := columnNamed(t, CoreFields(), "layers")
	for text, want := range map[string]string{
		`[{"thickness_mm": -3, "hex": "#8b5e3c"}]`:         `[0].thickness_mm: found -3, want a number above 0 and up to 2000 mm`,
		`[{"thickness_mm": 3, "hex": "#8b5e3c"}`:           `line 1, column 39: found the end of the document, want its rest: it seems cut off`,
		`[{"thickness_mm": 3, "hex": "#8b5e3c"}] []`:       `line 1, column 41: found [, want nothing after the document`,
		`[{"thickness_mm": 3, "hex": "#8b5e3c", "b": ""}]`: `[0]: found unknown field "b", want one of thickness_mm, hex, band, note, edge`,
	} {
		var core Core
		if err := column.Scan(p, &core, text); err == nil || err.Error() != want {
			t.Errorf("%s: got %v, want %s", text, err, want)
		}
		if err := column.Scan(p, &core, `[{"thickness_mm": 3, "hex": "#8b5e3c"}]`); err != nil || len(core.Layers) != 1 {
			t.Errorf("after %s: got %v, %v", text, core.Layers, err)
		}
	}
}

func FuzzColumn_Scan(f *testing.F) {
	f.Add(`[{"thickness_mm": 12, "hex": "#8b5e3c", "band": "rust", "note": "ragged"}]`)
	f.Add(`[{"name": "pale sand", "kind": "sand", "hex": "#d9cba6", "thickness_mm": 60}]`)
	f.Add(`{"mulm_mm": 50}`)
	f.Add(`{"sha256": "` + testSum + `", "colour_doubt": 4, "light": {"ev": 0.3, "ev_doubt": 0.4, "veil": 0, "veil_doubt": 0}, ` +
		`"scale_error": 0.004, "surface": {"error_mm": 0.2, "highest_mm": -1.1, "lowest_mm": 1.3}}`)
	f.Add(`{"colour_doubt": 4, "light": {"ev": 0, "ev_doubt": 0, "veil": 0, "veil_doubt": 0}, ` +
		`"scale_error": 0, "surface": {"error_mm": 0, "highest_mm": 0, "lowest_mm": 0}, "reliable": false}`)
	f.Add("")
	f.Add("2026-11-01")
	f.Add("gas-bubbles roots-deep")
	f.Fuzz(func(t *testing.T, text string) {
		p := NewPartDecoder()
		scanAll(t, p, CoreFields(), text)
		scanAll(t, p, TankFields(), text)
	})
}

// scanAll scans a text as every column of a record. What is taken is written and read again.
func scanAll[R any](t *testing.T, p PartDecoder, fields []Field[R], text string) {
	for _, f := range fields {
		for _, c := range f.Columns() {
			var r, again R
			if !strings.Contains(c.Type, " TEXT ") {
				continue // SQLite keeps texts out of it
			}
			if c.Scan(p, &r, text) != nil {
				continue
			}
			if err := c.Scan(p, &again, c.Value(&r)); err != nil || !reflect.DeepEqual(again, r) {
				t.Fatalf("%s: got %+v, %v, want %+v from %q", c.Name, again, err, r, text)
			}
		}
	}
}
