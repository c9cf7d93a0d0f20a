package judge

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// namedLayer is a layer as any JSON form of the findings has it.
type namedLayer struct {
	Band         string `json:"band"`
	Probability  float64
	Alternatives []struct {
		Band        string
		Probability float64
	}
}

// checkNames fails where, anywhere in the JSON form of a value, a layer has an alternative that is
// likelier than its name, and counts the layers that have any.
func checkNames(t rapid.TB, what string, value any) (doubtful int) {
	t.Helper()
	text, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	var walk func(part json.RawMessage)
	walk = func(part json.RawMessage) {
		var list []json.RawMessage
		var object map[string]json.RawMessage
		switch {
		case json.Unmarshal(part, &list) == nil:
			for _, p := range list {
				walk(p)
			}
		case json.Unmarshal(part, &object) == nil:
			for _, p := range object {
				walk(p)
			}
			if object["alternatives"] == nil {
				return
			}
			var l namedLayer
			if err := json.Unmarshal(part, &l); err != nil {
				t.Fatal(err)
			}
			if len(l.Alternatives) > 0 {
				doubtful++
			}
			for _, a := range l.Alternatives {
				if a.Probability > l.Probability || a.Band == l.Band {
					t.Errorf("%s: named %s with %g beside %s with %g", what, l.Band, l.Probability, a.Band, a.Probability)
				}
			}
		}
	}
	walk(text)
	return doubtful
}

// drawPhoto is what a photo may leave open.
func drawPhoto(t *rapid.T) *layers.Photo {
	share := func(what string, most float64) float64 { return rapid.Float64Range(0, most).Draw(t, what) }
	return &layers.Photo{
		SHA256: strings.Repeat("5e", 32), ColorDoubt: 1 + share("doubt", 9), ScaleError: 0.005,
		Light: palette.Light{EV: share("EV", 2) - 1, EVDoubt: share("EV's doubt", 0.8), Veil: share("veil", 0.05), VeilDoubt: share("veil's doubt", 0.02)},
	}
}

// No alternative of a layer is likelier than its name, typed or from a photo, labelled or
// not.
func TestNames_likeliest(t *testing.T) {
	doubtful := 0
	rapid.Check(t, func(t *rapid.T) {
		tank := drawRecords(t)
		if rapid.Bool().Draw(t, "native told") {
			tank.Native = []layers.Native{{Name: "laid", Kind: layers.Sand, Color: testbeds.BandColor[palette.Native]}}
		}
		for i := range tank.Cores {
			core := &tank.Cores[i]
			if core.Lit = rapid.SampledFrom([]*bool{nil, new(false), new(true)}).Draw(t, "lit"); rapid.Bool().Draw(t, "photo") {
				core.Photo = drawPhoto(t)
				for k := range core.Layers {
					core.Layers[k].Edge = &layers.Edge{ErrorMM: 0.3}
				}
			}
			if core.Photo != nil {
				doubtful += checkNames(t, "photo", ReadPhotoCore(Learn(tank, nil), *core, reports.Photo{}, testbeds.Few()))
			} else {
				doubtful += checkNames(t, "typed", ReadCore(tank, *core, nil, testbeds.Few()))
			}
		}
		doubtful += checkNames(t, "findings", Interpret(slices.Values([]layers.Tank{tank}), testbeds.Few()))
		doubtful += checkNames(t, "timeline", NewTimeline(tank, testbeds.Few()))
	})
	if doubtful < 100 {
		t.Errorf("only %d layers had an alternative", doubtful)
	}
}

// The same of every core of the demo and of the contract's example.
func TestNames_likeliestOfDocuments(t *testing.T) {
	for path, least := range map[string]int{"../../cmd/internal/demo/logbook.json": 350, "../../testdata/contract.json": 0} {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		decoder := layers.NewDecoder(bytes.NewReader(text), testbeds.Day("2100-01-01"))
		tanks := slices.Collect(decoder.Tanks())
		if err := decoder.Err(); err != nil {
			t.Fatal(err)
		}
		doubtful := checkNames(t, path, Interpret(slices.Values(tanks), testbeds.Few()))
		for _, tank := range tanks {
			for _, core := range tank.Cores {
				doubtful += checkNames(t, tank.ID+" "+core.Date.String(), ReadCore(tank, core, nil, reports.Settings{Draws: 8, Seed: reports.DefaultSeed}))
			}
		}
		if doubtful < least {
			t.Errorf("%s: only %d layers had an alternative", path, doubtful)
		}
	}
}
