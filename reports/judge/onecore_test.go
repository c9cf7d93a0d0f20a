package judge

import (
	"encoding/json"
	"reflect"
	"slices"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// photographed is a core as a photo gives it.
func photographed() layers.Core {
	return layers.Core{
		Station: "front", Date: testbeds.Day("2026-05-01"),
		Photo: &layers.Photo{
			SHA256: "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", ColorDoubt: palette.DoubtCard,
			Surface: layers.Edge{ErrorMM: 0.204, HighestMM: -1.1, LowestMM: 1.3049},
		},
		Layers: []layers.Layer{
			{ThicknessMM: 12, Color: palette.Color{R: 0x8b, G: 0x5e, B: 0x3c}, Edge: &layers.Edge{ErrorMM: 0.3, HighestMM: 11.005, LowestMM: 13.2}},
			{ThicknessMM: 40, Color: palette.Color{R: 0xd9, G: 0xcb, B: 0xa6}, Edge: &layers.Edge{HighestMM: 52, LowestMM: 52}},
		},
	}
}

// A photo's core says what the core by itself says, and how it was read.
func TestReadPhotoCore_rounded(t *testing.T) {
	tank, settings := layers.Tank{}, reports.Settings{Draws: 200, Seed: 1}
	how := reports.Photo{PxPerMM: 13.06449, RollDegrees: -0.004, GlareShare: 0.083333, Correction: reports.Correction{
		Cards: 1, Gain: [3]float64{1.020449, 1, 0.99}, ExposureEV: 0.3849, ExposureDoubt: 0.151, Veil: 0.00001,
	}, Lines: []reports.Line{{Pixels: [][2]float64{{10.04, 20.06}}, Confidence: 0.98765}}}
	read := ReadPhotoCore(Learn(tank, nil), photographed(), how, settings)
	if want := ReadCore(tank, photographed(), nil, settings); !reflect.DeepEqual(read.Core, want) {
		t.Errorf("core %v, want %v", read.Core, want)
	}
	want := reports.Photo{
		PxPerMM: 13.064, RollDegrees: 0, GlareShare: 0.0833,
		Correction: reports.Correction{Cards: 1, Gain: [3]float64{1.0204, 1, 0.99}, ExposureEV: 0.38, ExposureDoubt: 0.15},
		Surface:    reports.Relief{ErrorMM: 0.2, HighestMM: -1.1, LowestMM: 1.3}, Edges: []reports.Relief{{ErrorMM: 0.3, HighestMM: 11.01, LowestMM: 13.2}, {ErrorMM: 0, HighestMM: 52, LowestMM: 52}},
		Lines:  []reports.Line{{Pixels: [][2]float64{{10, 20.1}}, Confidence: 0.9877}},
		SHA256: photographed().Photo.SHA256, Warnings: []string{},
	}
	if !reflect.DeepEqual(read.Photo, want) {
		t.Errorf("photo %+v, want %+v", read.Photo, want)
	}
}

// What a picture needs of a core comes with it, and stays out of its JSON form.
func TestReadCore_forPictures(t *testing.T) {
	seen := photographed()
	seen.Signs, seen.Note = []layers.Sign{layers.GasBubbles}, "after the move"
	read := ReadCore(layers.Tank{}, seen, nil, testbeds.Few())
	if want := (&reports.Relief{ErrorMM: 0.2, HighestMM: -1.1, LowestMM: 1.3}); !reflect.DeepEqual(read.Surface, want) {
		t.Errorf("surface %v, want %v", read.Surface, want)
	}
	if want := (&reports.Relief{ErrorMM: 0.3, HighestMM: 11.01, LowestMM: 13.2}); !reflect.DeepEqual(read.Layers[0].Edge, want) {
		t.Errorf("edge %v, want %v", read.Layers[0].Edge, want)
	}
	if read.Photo != seen.Photo.SHA256 || read.Note != seen.Note || !reflect.DeepEqual(read.Signs, seen.Signs) {
		t.Errorf("photo %q, note %q, signs %v", read.Photo, read.Note, read.Signs)
	}
	byEye := testbeds.HealthyBed()
	for _, core := range interpret(byEye).Cores {
		if core.Surface != nil || core.Photo != "" || core.Layers[0].Edge != nil {
			t.Errorf("a core read by eye has the relief %v and %v and the photo %q", core.Surface, core.Layers[0].Edge, core.Photo)
		}
	}
	text, err := json.Marshal(read)
	if err != nil {
		t.Fatal(err)
	}
	bare := read
	bare.Surface, bare.Photo, bare.Note, bare.Signs = nil, "", "", nil
	bare.Layers = slices.Clone(read.Layers)
	for i := range bare.Layers {
		bare.Layers[i].Edge = nil
	}
	if without, err := json.Marshal(bare); err != nil || string(text) != string(without) {
		t.Errorf("JSON %s, want %s (%v)", text, without, err)
	}
}

// The fields of a core stand at the top, as the contract has them.
func TestPhotoCore_json(t *testing.T) {
	text, err := json.Marshal(ReadPhotoCore(Learn(layers.Tank{}, nil), photographed(), reports.Photo{}, reports.Settings{Draws: 100, Seed: 1}))
	if err != nil {
		t.Fatal(err)
	}
	var object map[string]json.RawMessage
	if err := json.Unmarshal(text, &object); err != nil {
		t.Fatal(err)
	}
	for _, field := range []string{"station", "date", "layers", "mulm_mm", "oxic_depth_mm", "reliable", "photo"} {
		if object[field] == nil {
			t.Errorf("lacks %q: %s", field, text)
		}
	}
}

// A colour's meanings are bands, each once, the likeliest first.
func TestMeanings_eachBandOnce(t *testing.T) {
	matcher := palette.NewMatcher(nil, nil)
	for _, p := range palette.Prototypes() {
		list := Meanings(p.Color, matcher)
		told := map[palette.Band]bool{}
		for i, m := range list {
			if told[m.Band] || i > 0 && m.Probability > list[i-1].Probability {
				t.Errorf("%v: %v", p.Color, list)
			}
			told[m.Band] = true
		}
		if len(list) != mostMeanings {
			t.Errorf("%v: %d meanings, want %d", p.Color, len(list), mostMeanings)
		}
	}
}

// A colour that leaves nothing to warn of has a list of warnings, an empty one, for who reads the JSON.
func TestNameSwatch_noWarnings(t *testing.T) {
	for _, warnings := range [][]string{nil, {"one"}} {
		if got := NameSwatch(reports.Swatch{Warnings: warnings}, palette.NewMatcher(nil, nil)).Warnings; got == nil || len(got) != len(warnings) {
			t.Errorf("got %#v of %#v", got, warnings)
		}
	}
}
