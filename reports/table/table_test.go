package table

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"
	"github.com/olekukonko/tablewriter/pkg/twwidth"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func TestMain(m *testing.M) {
	flag.Parse()
	twwidth.SetEastAsian(false) // otherwise guessed from the environment
	os.Exit(m.Run())
}

func report(t *testing.T, o Options, tanks ...reports.Tank) string {
	t.Helper()
	var b strings.Builder
	if err := Write(&b, reports.Findings{Format: reports.FindingsFormat, Tanks: tanks}, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// golden compares got with a file under testdata/text; escape characters stand
// there as "^[", so that the files read on any screen.
func golden(t *testing.T, name, got string) {
	t.Helper()
	got = strings.ReplaceAll(got, "\x1b", "^[")
	path := filepath.Join("..", "..", "testdata", "text", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs (-want +got; -update rewrites):\n%s", name, diff)
	}
}

func TestWrite_golden(t *testing.T) {
	for _, test := range []struct {
		name    string
		options Options
		tanks   []reports.Tank
	}{
		{"leave_80_mm.txt", Options{Width: 80}, []reports.Tank{healthy()}},
		{"leave_60_ascii_in.txt", Options{Width: 60, ASCII: true, Units: layers.Inches}, []reports.Tank{healthy()}},
		{"leave_80_swatch.txt", Options{Width: 80, Swatch: true}, []reports.Tank{healthy()}},
		{"siphon_80_mm.txt", Options{Width: 80}, []reports.Tank{running()}},
		{"siphon_60_ascii_mm.txt", Options{Width: 60, ASCII: true}, []reports.Tank{running()}},
		{"siphon_40_in.txt", Options{Width: 40, Units: layers.Inches}, []reports.Tank{running()}},
		{"water_first_80_mm.txt", Options{Width: 80}, []reports.Tank{gasping()}},
		{"questioned_60_ascii_in.txt", Options{Width: 60, ASCII: true, Units: layers.Inches}, []reports.Tank{questioned()}},
		{"runaway_80_mm.txt", Options{Width: 80}, []reports.Tank{swelling()}},
		{"runaway_60_ascii_in.txt", Options{Width: 60, ASCII: true, Units: layers.Inches}, []reports.Tank{swelling()}},
		{"nil_80_mm.txt", Options{Width: 80}, []reports.Tank{unread()}},
		{"three_tanks_100_in.txt", Options{Width: 120, Units: layers.Inches}, []reports.Tank{healthy(), running(), unread()}},
		{"no_tanks.txt", Options{Width: 80}, nil},
	} {
		t.Run(test.name, func(t *testing.T) { golden(t, test.name, report(t, test.options, test.tanks...)) })
	}
}

func TestWriteBands_golden(t *testing.T) {
	prototypes := []palette.Prototype{
		{Band: palette.MulmLight, Color: hex("#8b5e3c"), Spread: 7, Source: "assumption"},
		{Band: palette.Native, Kind: "gravel", Color: hex("#b9a58a"), Spread: 9.25,
			Source: "a made-up source that is so long that it does not stand on one line beside the rest"},
	}
	for name, o := range map[string]Options{
		"bands_80.txt":        {Width: 80},
		"bands_80_swatch.txt": {Width: 80, Swatch: true},
		"bands_40_ascii.txt":  {Width: 40, ASCII: true},
	} {
		var b strings.Builder
		if err := WriteBands(&b, prototypes, o); err != nil {
			t.Fatal(err)
		}
		golden(t, name, b.String())
	}
}

func TestWrite_decisionFirst(t *testing.T) {
	lines := strings.Split(report(t, Options{Width: 60}, running()), "\n")
	first := strings.Join(lines[:5], " ")
	for _, want := range []string{"tall-jar", "2026-11-02", "Siphon the top", "64 of 100", "15 mm"} {
		if !strings.Contains(first, want) {
			t.Errorf("%q is not in the first five lines:\n%s", want, first)
		}
	}
}

// A runaway stands right below the advice, a possible one is spoken of in one line, and a quiet watch is
// silent, in the report, in the timeline and among all tanks.
func TestWrite_watch(t *testing.T) {
	for _, test := range []struct {
		probability float64
		says        string // in reports and timelines
		marked      bool   // among all tanks
	}{
		{0.03, "", false}, {0.3, "A runaway may be beginning (30 %): read the bed again by", false}, {0.87, "A runaway is under way with a probability of 87 %, since 2026-08-02:", true},
	} {
		tank := swelling()
		tank.Watch.Probability = &test.probability
		var line, all, markdown strings.Builder
		if err := errors.Join(
			WriteTimeline(&line, reports.Timeline{ID: tank.ID, Watch: tank.Watch, Stations: []reports.StationLine{{Station: "front", Cores: tank.Cores[:1]}}}, Options{Width: 100}),
			WriteOverview(&all, reports.Overview{Tanks: []reports.OverviewLine{{ID: tank.ID, Action: reports.Leave, Watch: tank.Watch}}}, Options{Width: 100}),
			WriteMarkdown(&markdown, reports.Findings{Tanks: []reports.Tank{tank}}, layers.MM),
		); err != nil {
			t.Fatal(err)
		}
		for name, text := range map[string]string{"report": report(t, Options{Width: 100}, tank), "timeline": line.String(), "Markdown": markdown.String()} {
			if found := strings.Contains(text, "runaway"); found != (test.says != "") || !strings.Contains(text, test.says) {
				t.Errorf("%v: the %s does not say %q, or says something else:\n%s", test.probability, name, test.says, text)
			}
		}
		if strings.Contains(all.String(), "kettle runaway!") != test.marked || strings.Contains(all.String(), "runaway") != test.marked {
			t.Errorf("%v: among all tanks:\n%s", test.probability, all.String())
		}
	}
}

func TestWrite_asciiOnly(t *testing.T) {
	for _, tank := range []reports.Tank{healthy(), running(), swelling(), unread()} {
		text := report(t, Options{Width: 60, ASCII: true}, tank)
		if i := strings.IndexFunc(text, func(r rune) bool { return r > unicode.MaxASCII }); i >= 0 {
			t.Errorf("%s: %q is beyond ASCII", tank.ID, text[i:min(i+12, len(text))])
		}
	}
}

func TestWrite_controlCharactersInRecords(t *testing.T) {
	tank := unread()
	tank.Name = "red\x1b[31m\x07\r\nbed\u202eside\x9b2J"
	tank.Cores[0].Station = "\x1b]0;title\x07front"
	text := report(t, Options{Width: 80}, tank)
	if i := strings.IndexFunc(text, func(r rune) bool { return unicode.IsControl(r) && r != '\n' || r == '\u202e' }); i >= 0 {
		t.Errorf("the report holds %q", text[i:i+4])
	}
	if !strings.Contains(text, "red bedside") || !strings.Contains(text, "  front, read") {
		t.Errorf("the records' words are gone:\n%s", text)
	}
}

// Two stations of one tank are drawn to one scale: the rows between two depths
// are the same in both.
func TestWrite_oneScaleForAllCores(t *testing.T) {
	tank := healthy()
	deep, shallow := &tank.Cores[0], &tank.Cores[1]
	deep.Layers = []reports.Layer{layer(0, 60, "#8b5e3c", palette.MulmLight, 0.9), layer(60, 60, "#d9cba6", palette.Native, 0.9)}
	shallow.Layers = []reports.Layer{layer(0, 60, "#d9cba6", palette.Native, 0.9)}
	var rows []int // of the first layer of each core
	for _, block := range strings.Split(report(t, Options{Width: 80}, tank), "water\n")[1:] {
		lines := strings.Split(block, "\n")
		for n := range lines {
			if strings.Contains(lines[n], "60 ┤") || strings.Contains(lines[n], "60 └") {
				rows = append(rows, n)
				break
			}
		}
	}
	if len(rows) != 2 || rows[0] != rows[1] || rows[0] < 8 {
		t.Errorf("60 mm take %v rows, want the same in both cores, and at least 8", rows)
	}
}

func TestWrite_markOfOxicDepth(t *testing.T) {
	for _, test := range []struct {
		depth float64
		want  string // the line that carries the mark
	}{{16, "   16 ┤"}, {0, "    0 ┤"}, {74, "   74 └"}, {500, "   74 └"}} {
		tank := healthy()
		tank.Cores = tank.Cores[:1]
		tank.Cores[0].OxicDepth = estimate(test.depth, test.depth, test.depth, reports.RustFront)
		var marked []string
		for line := range strings.Lines(report(t, Options{Width: 80}, tank)) {
			if strings.Contains(line, "◄") && !strings.Contains(line, "colour oxic depth") {
				marked = append(marked, line)
			}
		}
		if len(marked) != 1 || !strings.HasPrefix(marked[0], test.want) {
			t.Errorf("depth %v mm is marked at %q, want one line %q", test.depth, marked, test.want)
		}
	}
}

func TestWrite_swatchColours(t *testing.T) {
	text := report(t, Options{Width: 80, Swatch: true}, healthy())
	if !strings.Contains(text, "48;2;139;94;60") {
		t.Error("no background of #8b5e3c")
	}
	if plain := report(t, Options{Width: 80}, healthy()); ansi.Strip(text) != plain {
		t.Error("swatches change more than the colour")
	}
}

// full is a writer on a disk without room.
type full struct{}

var errFull = errors.New("no space left")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestWrite_writerFails(t *testing.T) {
	for _, tanks := range [][]reports.Tank{nil, {unread()}} {
		if err := Write(full{}, reports.Findings{Tanks: tanks}, Options{Width: 80}); !errors.Is(err, errFull) {
			t.Errorf("%d tanks: found %v, want the writer's error", len(tanks), err)
		}
	}
	if err := WriteBands(full{}, nil, Options{Width: 80}); !errors.Is(err, errFull) {
		t.Errorf("bands: found %v, want the writer's error", err)
	}
}
