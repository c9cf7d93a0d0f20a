package layers

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"

	"panecore/palette"
)

var update = flag.Bool("update", false, "renew the golden files")

func TestDecode_badDocuments(t *testing.T) {
	documents, err := filepath.Glob("../testdata/bad/*.json")
	if err != nil || len(documents) < 60 {
		t.Fatalf("found %d bad documents, want 60 or more (%v)", len(documents), err)
	}
	for _, path := range documents {
		t.Run(filepath.Base(path), func(t *testing.T) {
			document, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			_, err = Decode(bytes.NewReader(document), today)
			if _, ok := errors.AsType[Faults](err); !ok {
				t.Fatalf("got %v, want faults", err)
			}
			golden := strings.TrimSuffix(path, ".json") + ".want"
			got := err.Error() + "\n"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("got\n%swant\n%s", got, want)
			}
		})
	}
}

// contractTank is the tank of testdata/contract.json.
func contractTank() Tank {
	yes := new(bool)
	*yes = true
	number := func(value float64) *float64 { return &value }
	return Tank{
		ID: "kettle", Name: "Kettle", SetUp: mustDate("2024-10-12"),
		Vessel: &Vessel{Shape: Box, LengthMM: 600, WidthMM: 300, WaterDepthMM: 280},
		Flow:   Livestock, Burrowers: yes, RootedPlants: yes,
		Native: []Native{{Name: "pale sand", Kind: Sand, Color: palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}, ThicknessMM: 60}},
		Limits: Limits{LimitMulm: 50},
		Cores: []Core{{
			Date: mustDate("2026-11-01"), Station: "front", Lit: yes, Signs: []Sign{GasBubbles},
			Layers: []Layer{
				{ThicknessMM: 12, Color: palette.Color{R: 0x8b, G: 0x5e, B: 0x3c}},
				{ThicknessMM: 4, Color: palette.Color{R: 0xb4, G: 0x55, B: 0x2a}, Band: palette.Rust},
			},
		}},
		Water: []WaterTest{{Date: mustDate("2026-11-01"), Time: "07:30", PH: number(7.4), TemperatureC: number(24),
			TotalAmmonia: number(0.25), OxygenMGPerL: number(5.1)}},
		Events: []Event{{Date: mustDate("2026-09-02"), Kind: EventSiphon, Share: number(0.25), DepthMM: number(20)}},
	}
}

func mustDate(s string) Date {
	date, err := ParseDate(s)
	if err != nil {
		panic(err)
	}
	return date
}

func contractDocument(t testing.TB) []byte {
	document, err := os.ReadFile("../testdata/contract.json")
	if err != nil {
		t.Fatal(err)
	}
	return document
}

func TestDecode_contract(t *testing.T) {
	got, err := Decode(bytes.NewReader(contractDocument(t)), today)
	if want := []Tank{contractTank()}; err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %v, want %+v", got, err, want)
	}
}

// A reader may hand out as little as a byte at a time.
func TestDecode_byteByByte(t *testing.T) {
	got, err := Decode(iotest.OneByteReader(bytes.NewReader(contractDocument(t))), today)
	if want := []Tank{contractTank()}; err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %v, want %+v", got, err, want)
	}
}

// oneCore is a document of one core, whose fields besides the layers are given.
func oneCore(fields string) string {
	return `{"format": "panecore/1", "tanks": [{"id": "a", "cores": [{"date": "2026-11-01", "station": "b", ` +
		fields + `"layers": [{"thickness_mm": 1, "hex": "#010203"}]}]}]}`
}

func TestDecode_lenient(t *testing.T) {
	plain := []Tank{{ID: "a", Cores: []Core{{Date: mustDate("2026-11-01"), Station: "b",
		Layers: []Layer{{ThicknessMM: 1, Color: palette.Color{R: 1, G: 2, B: 3}}}}}}}
	for name, test := range map[string]struct {
		document string
		want     []Tank
	}{
		"no tanks":           {`{"tanks": [], "format": "panecore/1"}`, nil},
		"an id only":         {`{"format": "panecore/1", "tanks": [{"id": "a"}]}`, []Tank{{ID: "a"}}},
		"empty lists":        {`{"format": "panecore/1", "tanks": [{"id": "a", "native": [], "limits": {}, "cores": [], "water": [], "events": []}]}`, []Tank{{ID: "a"}}},
		"empty signs, note":  {oneCore(`"signs": [], "note": "", `), plain},
		"escapes in a name":  {strings.Replace(oneCore(""), `"station"`, `"\u0073tation"`, 1), plain},
		"escapes in a value": {strings.NewReplacer(`"b"`, `"\u0062"`, `"#010203"`, `"\u0023010203"`, "2026-11-01", `2026-11-0\u0031`).Replace(oneCore("")), plain},
		"byte order mark":    {"\ufeff" + oneCore(""), plain},
		"CRLF and blanks":    {"\r\n\t " + strings.ReplaceAll(oneCore(""), " ", "\r\n") + "\r\n", plain},
		"number forms":       {strings.Replace(oneCore(""), `"thickness_mm": 1,`, `"thickness_mm": 0.01e+2,`, 1), plain},
		"hex in capitals":    {strings.Replace(oneCore(""), "#010203", "#0A0B0C", 1), []Tank{{ID: "a", Cores: []Core{{Date: mustDate("2026-11-01"), Station: "b", Layers: []Layer{{ThicknessMM: 1, Color: palette.Color{R: 10, G: 11, B: 12}}}}}}}},
		"2 m in layers":      {strings.Replace(oneCore(""), `"thickness_mm": 1,`, `"thickness_mm": 2000,`, 1), []Tank{{ID: "a", Cores: []Core{{Date: mustDate("2026-11-01"), Station: "b", Layers: []Layer{{ThicknessMM: 2000, Color: palette.Color{R: 1, G: 2, B: 3}}}}}}}},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := Decode(strings.NewReader(test.document), today)
			if err != nil || !reflect.DeepEqual(got, test.want) {
				t.Errorf("got %+v, %v, want %+v", got, err, test.want)
			}
		})
	}
}

// A tank has MaxStations stations at most, however often each was read; the next tank begins anew.
func TestDecode_stations(t *testing.T) {
	tank := func(id string, stations int) string {
		var cores []string
		for day := 1; day <= 2; day++ {
			for i := range stations {
				cores = append(cores, fmt.Sprintf(`{"date": "2026-10-%02d", "station": "s%d", "layers": [{"thickness_mm": 1, "hex": "#010203"}]}`, day, i+1))
			}
		}
		return fmt.Sprintf(`{"id": %q, "cores": [%s]}`, id, strings.Join(cores, ",\n"))
	}
	document := func(tanks ...string) *strings.Reader {
		return strings.NewReader(`{"format": "panecore/1", "tanks": [` + strings.Join(tanks, ",") + `]}`)
	}
	if _, err := Decode(document(tank("a", MaxStations), tank("b", MaxStations)), today); err != nil {
		t.Errorf("%d stations: %v", MaxStations, err)
	}
	_, err := Decode(document(tank("a", MaxStations+1)), today)
	want := `tank "a", cores[1000], station: found "s1001", one station more, want at most 1000 stations a tank
tank "a", cores[2001], station: found "s1001", one station more, want at most 1000 stations a tank`
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want\n%s", err, want)
	}
}

// What is 0 or false is given; what is left out is not.
func TestDecode_zeroIsGiven(t *testing.T) {
	tanks, err := Decode(strings.NewReader(`{"format": "panecore/1", "tanks": [{"id": "a", "burrowers": false,
		"water": [{"date": "2026-11-01", "total_ammonia_mg_l": -0}],
		"events": [{"date": "2026-11-01", "kind": "stir", "share": 0}]}]}`), today)
	if err != nil {
		t.Fatal(err)
	}
	tank := tanks[0]
	if tank.Burrowers == nil || *tank.Burrowers || tank.RootedPlants != nil {
		t.Error("want burrowers false, rooted plants not given")
	}
	if test := tank.Water[0]; test.TotalAmmonia == nil || *test.TotalAmmonia != 0 || test.PH != nil {
		t.Error("want ammonia 0, pH not given")
	}
	if event := tank.Events[0]; event.Share == nil || *event.Share != 0 || event.DepthMM != nil {
		t.Error("want share 0, depth not given")
	}
	var document bytes.Buffer
	if err := Encode(&document, tanks); err != nil || strings.Contains(document.String(), "-0,") {
		t.Errorf("want no negative zero in %s (%v)", &document, err)
	}
}

func TestDecode_readerError(t *testing.T) {
	broken := errors.New("the disk is gone")
	for _, length := range []int{0, 1, 100, 400} {
		r := iotest.DataErrReader(bytes.NewReader(contractDocument(t)[:length]))
		_, err := Decode(&failingReader{r, broken}, today)
		if _, faults := errors.AsType[Faults](err); faults || !errors.Is(err, broken) {
			t.Errorf("after %d bytes: got %v, want the reader's own error", length, err)
		} else if want := "reading the logbook document: the disk is gone"; err.Error() != want {
			t.Errorf("got %q, want %q", err, want)
		}
	}
}

// failingReader fails where its reader ends.
type failingReader struct {
	r interface {
		Read([]byte) (int, error)
	}
	err error
}

func (f *failingReader) Read(p []byte) (int, error) {
	n, err := f.r.Read(p)
	if err != nil {
		err = f.err
	}
	return n, err
}

// Workers may begin on the first tank while the rest is still on its way.
func TestDecoder_Tanks_stream(t *testing.T) {
	broken := errors.New("broken off")
	d := NewDecoder(&failingReader{strings.NewReader(`{"format": "panecore/1", "tanks": [{"id": "a"}, {"id": "b"}, {"id`), broken}, today)
	var ids []string
	for tank := range d.Tanks() {
		ids = append(ids, tank.ID)
	}
	if !reflect.DeepEqual(ids, []string{"a", "b"}) || !errors.Is(d.Err(), broken) {
		t.Errorf("got %v, %v, want a and b, and the reader's error", ids, d.Err())
	}
}

func TestDecoder_Tanks_enough(t *testing.T) {
	d := NewDecoder(strings.NewReader(`{"format": "panecore/1", "tanks": [{"id": "a"}, {"id": 7}]}`), today)
	for range d.Tanks() {
		break
	}
	if d.Err() != nil {
		t.Errorf("got %v, want nothing read past the first tank", d.Err())
	}
}

func TestDecoder_Tanks_noneAfterFault(t *testing.T) {
	d := NewDecoder(strings.NewReader(`{"format": "panecore/1", "tanks": [{"id": "a"}, {"id": "b", "flow": 1}, {"id": "c"}, {"id": "d", "flow": 2}]}`), today)
	var ids []string
	for tank := range d.Tanks() {
		ids = append(ids, tank.ID)
	}
	faults, _ := errors.AsType[Faults](d.Err())
	if !reflect.DeepEqual(ids, []string{"a"}) || len(faults) != 2 {
		t.Errorf("got %v, %v, want a alone, and two faults", ids, d.Err())
	}
}

// A tank handed out must not change while the next is read.
func TestDecoder_Tanks_keep(t *testing.T) {
	document := largeDocument(t, 3)
	d := NewDecoder(bytes.NewReader(document), today)
	var streamed []Tank
	var copies [][]byte
	for tank := range d.Tanks() {
		var copied bytes.Buffer
		if err := Encode(&copied, []Tank{tank}); err != nil {
			t.Fatal(err)
		}
		streamed, copies = append(streamed, tank), append(copies, copied.Bytes())
	}
	for i, tank := range streamed {
		var later bytes.Buffer
		if err := Encode(&later, []Tank{tank}); err != nil || !bytes.Equal(later.Bytes(), copies[i]) {
			t.Errorf("tank %d changed after it was yielded (%v)", i, err)
		}
	}
	if len(streamed) != 3 || d.Err() != nil {
		t.Errorf("got %d tanks, %v", len(streamed), d.Err())
	}
}

func TestFaults_Error_counts(t *testing.T) {
	for faults, want := range map[int]struct {
		lines int
		last  string
	}{
		20: {20, "tanks[19]: found the number 7, want an object, {…}"},
		21: {21, "further faults: 1"},
	} {
		document := `{"format": "panecore/1", "tanks": [7` + strings.Repeat(", 7", faults-1) + `]}`
		_, err := Decode(strings.NewReader(document), today)
		lines := strings.Split(err.Error(), "\n")
		if len(lines) != want.lines || lines[len(lines)-1] != want.last {
			t.Errorf("%d faults: got %d lines, the last %q", faults, len(lines), lines[len(lines)-1])
		}
	}
}

// The grammar's faults stand behind the others, and count among them.
func TestFaults_syntaxLast(t *testing.T) {
	_, err := Decode(strings.NewReader("{\"format\": \"panecore/1\", \"tanks\": [7,\n8, x"), today)
	want := "tanks[0]: found the number 7, want an object, {…}\ntanks[1]: found the number 8, want an object, {…}\n" +
		`line 2, column 4, in tanks[2]: found "x", want a number, a text in double quotes, true, false, a list or an object`
	if err == nil || err.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", err, want)
	}
	_, err = Decode(strings.NewReader(`{"format": "panecore/1", "tanks": [`+strings.Repeat("7, ", 20)+"x"), today)
	if faults, _ := errors.AsType[Faults](err); len(faults) != 21 || faults[20].Error() != "further faults: 1" {
		t.Errorf("got %v", err)
	}
}

// Each line is one line, whatever stands in the document.
func TestFault_oneLine(t *testing.T) {
	for _, document := range []string{
		oneCore(`"a\nb\u001b": 1, `),
		oneCore(`"note": 7, "lit": "` + strings.Repeat("x", 5000) + `", `),
		oneCore(`"signs": ["\n\r"], `),
		oneCore(`"more": {"a\nb": {"c/d": [}, `),
		oneCore(`"lit": 1` + strings.Repeat("0", 5000) + `, `),
		strings.Replace(oneCore(`"lit": 1, `), `"b"`, `"\u2028"`, 1),
		`{"tanks": {"a\nb": NaN}}`,
		`{"tanks": [{"cores": {"a\nb": NaN}}]}`,
	} {
		_, err := Decode(strings.NewReader(document), today)
		faults, _ := errors.AsType[Faults](err)
		if len(faults) == 0 {
			t.Fatalf("%.100s: got %v, want faults", document, err)
		}
		for _, fault := range faults {
			if line := fault.Error(); strings.ContainsAny(line, "\n\r\u001b") || len(line) > 400 {
				t.Errorf("got %q", line)
			}
		}
	}
}

func TestNearest(t *testing.T) {
	for name, want := range map[string]string{
		"thickness": "thickness_mm", "thicknes_mm": "thickness_mm", "Thickness_MM": "thickness_mm",
		"hexx": "hex", "notes": "note", "colour": "", "x": "", "": "", strings.Repeat("hex", 20): "",
	} {
		if got := Nearest(name, layerTable.names.Names); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", name, got, want)
		}
	}
}
