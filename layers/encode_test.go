package layers

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/palette"
)

func TestEncode_contract(t *testing.T) {
	var document bytes.Buffer
	if err := Encode(&document, []Tank{contractTank()}); err != nil {
		t.Fatal(err)
	}
	const want = `{
  "format": "panecore/1",
  "tanks": [
    {
      "id": "kettle",
      "name": "Kettle",
      "set_up": "2024-10-12",
      "vessel": {"shape": "box", "length_mm": 600, "width_mm": 300, "water_depth_mm": 280},
      "flow": "livestock",
      "burrowers": true,
      "rooted_plants": true,
      "native": [
        {"name": "pale sand", "kind": "sand", "hex": "#d9cba6", "thickness_mm": 60}
      ],
      "limits": {"mulm_mm": 50},
      "cores": [
        {
          "date": "2026-11-01",
          "station": "front",
          "lit": true,
          "signs": ["gas-bubbles"],
          "layers": [
            {"thickness_mm": 12, "hex": "#8b5e3c"},
            {"thickness_mm": 4, "hex": "#b4552a", "band": "rust"}
          ]
        }
      ],
      "water": [
        {"date": "2026-11-01", "time": "07:30", "ph": 7.4, "temperature_c": 24, "total_ammonia_mg_l": 0.25, "oxygen_mg_l": 5.1}
      ],
      "events": [
        {"date": "2026-09-02", "kind": "siphon", "share": 0.25, "depth_mm": 20}
      ]
    }
  ]
}
`
	if document.String() != want {
		t.Errorf("got\n%s", &document)
	}
}

func TestEncode_noTanks(t *testing.T) {
	var document bytes.Buffer
	if err := Encode(&document, nil); err != nil {
		t.Fatal(err)
	}
	if want := "{\n  \"format\": \"panecore/1\",\n  \"tanks\": []\n}\n"; document.String() != want {
		t.Errorf("got %s", &document)
	}
}

// Signs of another script, of HTML and of JSON itself stand as they are where they can.
func TestEncode_text(t *testing.T) {
	var document bytes.Buffer
	if err := Encode(&document, []Tank{{ID: `Jörgs "<Becken>" & 鱼\`}}); err != nil {
		t.Fatal(err)
	}
	if want := `"id": "Jörgs \"<Becken>\" & 鱼\\"`; !strings.Contains(document.String(), want) {
		t.Errorf("got %s, want %s", &document, want)
	}
}

func TestEncode_refused(t *testing.T) {
	for want, tank := range map[string]Tank{
		"found thickness_mm NaN, want a number": {ID: "a", Native: []Native{{ThicknessMM: math.NaN()}}},
		"found mulm_mm +Inf, want a number":     {ID: "a", Limits: Limits{LimitMulm: math.Inf(1)}},
		`found text "\xff", want UTF-8`:         {ID: "\xff"},
		"found veil NaN, want a number":         {Cores: []Core{{Photo: &Photo{Light: palette.Light{Veil: math.NaN()}}}}},
		"found lowest_mm +Inf, want a number":   {Cores: []Core{{Layers: []Layer{{Edge: &Edge{LowestMM: math.Inf(1)}}}}}},
	} {
		if err := Encode(&bytes.Buffer{}, []Tank{tank}); err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}

type brokenWriter struct{ err error }

func (w brokenWriter) Write([]byte) (int, error) { return 0, w.err }

func TestEncode_writerError(t *testing.T) {
	broken := errors.New("the disk is full")
	if err := Encode(brokenWriter{broken}, []Tank{{ID: "a"}, {ID: "b"}}); !errors.Is(err, broken) {
		t.Errorf("got %v, want the writer's own error", err)
	}
}

// decode(encode(x)) == x, and what is encoded again is the same to the byte.
func TestEncode_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tanks := anyTanks().Draw(t, "tanks")
		var document bytes.Buffer
		if err := Encode(&document, tanks); err != nil {
			t.Fatal(err)
		}
		checkAgain(t, document.Bytes(), tanks)
	})
}

// checkAgain checks that a canonical document reads as tanks and is written the same.
func checkAgain(t interface {
	Fatalf(string, ...any)
}, document []byte, tanks []Tank) {
	again, err := Decode(bytes.NewReader(document), today)
	if err != nil {
		t.Fatalf("%v in\n%s", err, document)
	}
	if !reflect.DeepEqual(again, tanks) {
		t.Fatalf("got\n%+v\nwant\n%+v\nfrom\n%s", again, tanks, document)
	}
	var second bytes.Buffer
	if err := Encode(&second, again); err != nil || !bytes.Equal(second.Bytes(), document) {
		t.Fatalf("written again\n%s\nwant\n%s (%v)", &second, document, err)
	}
}

func FuzzDecode(f *testing.F) {
	documents, err := filepath.Glob("../testdata/bad/*.json")
	if err != nil {
		f.Fatal(err)
	}
	for _, path := range append(documents, "../testdata/contract.json") {
		document, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(document)
	}
	f.Add([]byte(photoDocument))
	f.Fuzz(func(t *testing.T, document []byte) {
		tanks, err := Decode(bytes.NewReader(document), today)
		if err != nil {
			if faults, ok := errors.AsType[Faults](err); !ok || len(faults) == 0 || len(faults) > MaxFaults+1 {
				t.Fatalf("got %#v, want 1 to %d faults", err, MaxFaults)
			}
			for line := range strings.SplitSeq(err.Error(), "\n") {
				if !strings.Contains(line, ": found ") && !strings.HasPrefix(line, "further faults: ") {
					t.Fatalf("a fault is not one line: %q", err)
				}
			}
			return
		}
		var canonical bytes.Buffer
		if err := Encode(&canonical, tanks); err != nil {
			t.Fatalf("a document that was read can't be written: %v", err)
		}
		checkAgain(t, canonical.Bytes(), tanks)
	})
}

// The generators below draw any tank that a document may hold.

func anyTanks() *rapid.Generator[[]Tank] {
	return orNil(rapid.SliceOfNDistinct(rapid.Custom(anyTank), 0, 3, func(t Tank) string { return t.ID }))
}

func anyTank(t *rapid.T) Tank {
	tank := Tank{
		ID:           anyLabel().Draw(t, "id"),
		Name:         rapid.OneOf(rapid.Just(""), anyLabel()).Draw(t, "name"),
		Vessel:       rapid.Ptr(rapid.Custom(anyVessel), true).Draw(t, "vessel"),
		Flow:         rapid.SampledFrom(append(flows, "")).Draw(t, "flow"),
		Burrowers:    rapid.Ptr(rapid.Bool(), true).Draw(t, "burrowers"),
		RootedPlants: rapid.Ptr(rapid.Bool(), true).Draw(t, "rooted plants"),
		Native:       orNil(rapid.SliceOfN(rapid.Custom(anyNative), 0, 3)).Draw(t, "native"),
		Limits:       rapid.Custom(anyLimits).Draw(t, "limits"),
		Cores: orNil(rapid.SliceOfNDistinct(rapid.Custom(anyCore), 0, 4, func(c Core) reading {
			return reading{c.Station, c.Date}
		})).Draw(t, "cores"),
		Water:  orNil(rapid.SliceOfN(rapid.Custom(anyWater), 0, 3)).Draw(t, "water"),
		Events: orNil(rapid.SliceOfN(rapid.Custom(anyEvent), 0, 3)).Draw(t, "events"),
	}
	oldest := today
	for _, core := range tank.Cores {
		oldest = min(oldest, core.Date)
	}
	if rapid.Bool().Draw(t, "set up given") {
		tank.SetUp = Date(rapid.Int32Range(int32(FirstDate), int32(oldest)).Draw(t, "set up"))
	}
	return tank
}

func anyVessel(t *rapid.T) Vessel {
	v := Vessel{Shape: rapid.SampledFrom(shapes).Draw(t, "shape"), WaterDepthMM: within(vesselRange).Draw(t, "water depth")}
	if v.Shape == Box {
		v.LengthMM = within(vesselRange).Draw(t, "length")
		v.WidthMM = within(vesselRange).Draw(t, "width")
	} else {
		v.DiameterMM = within(vesselRange).Draw(t, "diameter")
	}
	return v
}

func anyNative(t *rapid.T) Native {
	return Native{
		Name:        rapid.OneOf(rapid.Just(""), anyLabel()).Draw(t, "name"),
		Kind:        rapid.SampledFrom(kinds).Draw(t, "kind"),
		Color:       rapid.Custom(anyColor).Draw(t, "color"),
		ThicknessMM: rapid.OneOf(rapid.Just(0.0), within(thicknessRange)).Draw(t, "thickness"),
	}
}

func anyLimits(t *rapid.T) Limits {
	var limits Limits
	for limit, rule := range LimitRules() {
		if rapid.Bool().Draw(t, rule.Name) {
			if limits == nil {
				limits = Limits{}
			}
			limits[Limit(limit)] = within(measure{low: rule.Min, high: rule.Max}).Draw(t, "value")
		}
	}
	return limits
}

func anyCore(t *rapid.T) Core {
	return Core{
		Date:    anyDate().Draw(t, "date"),
		Station: anyLabel().Draw(t, "station"),
		Lit:     rapid.Ptr(rapid.Bool(), true).Draw(t, "lit"),
		Signs:   orNil(rapid.SliceOfNDistinct(rapid.SampledFrom(signs), 0, len(signs), rapid.ID[Sign])).Draw(t, "signs"),
		Note:    anyNote().Draw(t, "note"),
		Sure:    rapid.Bool().Draw(t, "sure"),
		Photo:   rapid.Ptr(rapid.Custom(anyPhoto), true).Draw(t, "photo"),
		Layers:  rapid.SliceOfN(rapid.Custom(anyLayer), 1, 6).Draw(t, "layers"),
	}
}

func anyLayer(t *rapid.T) Layer {
	const sixth = maxBedMM / 6.0 // so that six stay below the limit
	return Layer{
		ThicknessMM: within(measure{low: 0, high: sixth, open: true}).Draw(t, "thickness"),
		Color:       rapid.Custom(anyColor).Draw(t, "color"),
		Band:        rapid.SampledFrom(append(palette.Bands(), palette.NoBand)).Draw(t, "band"),
		Note:        anyNote().Draw(t, "note"),
		Edge:        rapid.Ptr(rapid.Custom(anyEdge), true).Draw(t, "edge"),
	}
}

func anyWater(t *rapid.T) WaterTest {
	return WaterTest{
		Date:         anyDate().Draw(t, "date"),
		Time:         rapid.SampledFrom([]string{"", "00:00", "07:30", "23:59"}).Draw(t, "time"),
		PH:           rapid.Ptr(within(phRange), true).Draw(t, "ph"),
		TemperatureC: rapid.Ptr(within(temperatureRange), true).Draw(t, "temperature"),
		TotalAmmonia: rapid.Ptr(within(ammoniaRange), true).Draw(t, "ammonia"),
		OxygenMGPerL: rapid.Ptr(within(oxygenRange), true).Draw(t, "oxygen"),
	}
}

func anyEvent(t *rapid.T) Event {
	return Event{
		Date:    anyDate().Draw(t, "date"),
		Kind:    rapid.SampledFrom(events).Draw(t, "kind"),
		Share:   rapid.Ptr(within(shareRange), true).Draw(t, "share"),
		DepthMM: rapid.Ptr(within(depthRange), true).Draw(t, "depth"),
		Note:    anyNote().Draw(t, "note"),
	}
}

func anyColor(t *rapid.T) palette.Color {
	return palette.Color{R: rapid.Byte().Draw(t, "r"), G: rapid.Byte().Draw(t, "g"), B: rapid.Byte().Draw(t, "b")}
}

func anyDate() *rapid.Generator[Date] {
	return rapid.Map(rapid.Int32Range(int32(FirstDate), int32(today)), func(day int32) Date { return Date(day) })
}

func within(m measure) *rapid.Generator[float64] {
	return rapid.Float64Range(m.low, m.high).Filter(func(v float64) bool { return m.Holds(v) && !(v == 0 && math.Signbit(v)) })
}

func anyLabel() *rapid.Generator[string] {
	return rapid.StringN(1, longestName, -1).Filter(func(s string) bool { return faultOfLabel([]byte(s)) == "" })
}

func anyNote() *rapid.Generator[string] {
	return rapid.StringN(0, 100, -1).Filter(func(s string) bool { return strings.IndexFunc(s, isStrange) < 0 })
}

// orNil draws nil for an empty list, which is how a document leaves it out.
func orNil[T any](lists *rapid.Generator[[]T]) *rapid.Generator[[]T] {
	return rapid.Map(lists, func(list []T) []T {
		if len(list) == 0 {
			return nil
		}
		return list
	})
}
