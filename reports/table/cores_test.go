package table

import (
	"errors"
	"io"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// entered is the first core of healthy as its keeper entered it.
func entered() layers.Core {
	return layers.Core{
		Station: "front", Date: date("2026-11-01"), Lit: new(true), Signs: []layers.Sign{layers.GasBubbles, layers.RootsDeep},
		Note: "after the weekend away",
		Layers: []layers.Layer{
			{ThicknessMM: 12, Color: hex("#8b5e3c")}, {ThicknessMM: 4, Color: hex("#b4552a"), Band: palette.Rust, Note: "ragged"},
			{ThicknessMM: 22, Color: hex("#3a3632")}, {ThicknessMM: 36, Color: hex("#d9cba6")},
		},
	}
}

// photographed is entered, read from a photo.
func photographed() layers.Core {
	core := entered()
	core.Photo = &layers.Photo{
		SHA256:  "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
		Surface: layers.Edge{ErrorMM: 0.2, HighestMM: -1.1, LowestMM: 1.3},
	}
	core.Layers[0].Edge = &layers.Edge{ErrorMM: 0.3, HighestMM: 11, LowestMM: 13.2}
	core.Layers[2].Edge = &layers.Edge{ErrorMM: 0.4, HighestMM: 35.4, LowestMM: 40}
	return core
}

func TestWriteCores_golden(t *testing.T) {
	removed, bare := entered(), photographed()
	bare.Photo.SHA256 = ""
	removed.Lit = new(false)
	bare.Station, bare.Lit, bare.Signs, bare.Note = "links, am Fenster", nil, nil, ""
	cores := []CoreEntry{
		{Core: entered()},
		{Core: removed, Ended: "removed 2026-11-03 18:20 UTC"},
		{Core: bare},
		{Core: photographed()},
	}
	for name, o := range map[string]Options{
		"cores_80.txt":          {Width: 80},
		"cores_60_ascii_in.txt": {Width: 60, ASCII: true, Units: layers.Inches},
	} {
		golden(t, name, drawn(t, func(w io.Writer) error { return WriteCores(w, cores, o) }))
	}
	if got := drawn(t, func(w io.Writer) error { return WriteCores(w, nil, Options{Width: 80}) }); got != "no cores to show\n" {
		t.Errorf("without cores: %q", got)
	}
}

func TestWriteCore_golden(t *testing.T) {
	tank := layers.Tank{ID: "kettle", Name: "Kettle"}
	for name, o := range map[string]Options{
		"core_80.txt":          {Width: 80},
		"core_60_ascii_in.txt": {Width: 60, ASCII: true, Units: layers.Inches},
	} {
		golden(t, name, drawn(t, func(w io.Writer) error { return WriteCore(w, tank, entered(), healthy().Cores[0], o) }))
		golden(t, "photographed_"+name, drawn(t, func(w io.Writer) error { return WriteCore(w, tank, photographed(), healthy().Cores[0], o) }))
	}
}

func TestWriteBeside_golden(t *testing.T) {
	doubtful := healthy().Cores[1]
	doubtful.Layers[0].Probability = 0.5
	doubtful.Layers[0].Alternatives = []reports.Alternative{{Band: palette.Rust, Probability: 0.4}}
	doubtful.Layers = doubtful.Layers[:3]
	cores := []reports.Core{healthy().Cores[0], doubtful}
	for name, o := range map[string]Options{
		"beside_80_swatch.txt":   {Width: 80, Swatch: true},
		"beside_60_ascii_in.txt": {Width: 60, ASCII: true, Units: layers.Inches},
		"beside_40.txt":          {Width: 40},
	} {
		golden(t, name, drawn(t, func(w io.Writer) error { return WriteBeside(w, cores, o) }))
	}
}

func TestWriteMeanings(t *testing.T) {
	brown := hex("#8b5e3c")
	meanings := []reports.Meaning{
		{Band: palette.Native, Kind: "sand", Probability: 0.6}, {Band: palette.Rust, Probability: 0.3},
		{Band: palette.Unknown, Probability: 0.049},
	}
	got := drawn(t, func(w io.Writer) error { return WriteMeanings(w, brown, meanings, Options{Width: 80}) })
	if want := "  #8b5e3c by itself may mean native (sand) 60 %, rust 30 %\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	got = drawn(t, func(w io.Writer) error { return WriteMeanings(w, brown, meanings, Options{Width: 40, Swatch: true}) })
	if !strings.Contains(got, "\x1b[48;2;139;94;60") {
		t.Errorf("got %q, want the colour itself", got)
	}
}

// What a keeper wrote can't act on the terminal.
func TestWriteCore_controlCharacters(t *testing.T) {
	core := entered()
	core.Note, core.Layers[1].Note = "a\x1b[2Jb", "c\x1b]0;title\x07d"
	read := healthy().Cores[0]
	read.Station, core.Station = "f\x1b[31m", "f\x1b[31m"
	text := drawn(t, func(w io.Writer) error {
		return WriteCore(w, layers.Tank{ID: "k\x1b[1m"}, core, read, Options{Width: 80})
	}) +
		drawn(t, func(w io.Writer) error { return WriteCores(w, []CoreEntry{{Core: core}}, Options{Width: 80}) })
	if strings.Contains(text, "\x1b") || !strings.Contains(text, "ab") || !strings.Contains(text, ": cd") {
		t.Errorf("got %q", text)
	}
}

func TestWriteCores_writerFails(t *testing.T) {
	broken := errors.New("no paper")
	read := healthy().Cores[0]
	for name, write := range map[string]func(io.Writer) error{
		"list":     func(w io.Writer) error { return WriteCores(w, nil, Options{}) },
		"core":     func(w io.Writer) error { return WriteCore(w, layers.Tank{}, entered(), read, Options{}) },
		"beside":   func(w io.Writer) error { return WriteBeside(w, []reports.Core{read}, Options{}) },
		"meanings": func(w io.Writer) error { return WriteMeanings(w, palette.Color{}, nil, Options{}) },
	} {
		if err := write(failing{broken}); !errors.Is(err, broken) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func drawn(t *testing.T, write func(io.Writer) error) string {
	t.Helper()
	var b strings.Builder
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// failing is a writer that takes nothing.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
