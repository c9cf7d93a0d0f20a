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

func TestWrite_asciiOnly(t *testing.T) {
	for _, tank := range []reports.Tank{healthy(), running(), unread()} {
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

func TestTexture_allDiffer(t *testing.T) {
	seen := map[string]palette.Band{}
	for _, band := range palette.Bands() {
		letters := textureOf(band).letters
		if other, taken := seen[letters]; taken {
			t.Errorf("%s and %s are both filled with %q", band, other, letters)
		}
		seen[letters] = band
	}
}

func TestMeasure(t *testing.T) {
	p := newPage(Options{Width: 80})
	for _, test := range []struct {
		estimate reports.Estimate
		measure  measure
		want     string
	}{
		{reports.Estimate{Value: 16, Low: 14.6, High: 18.2}, length(layers.MM), "16 mm (15 to 18)"},
		{reports.Estimate{Value: 1.94, Low: 1.2, High: 2.6}, rate(layers.MM), "1.9 mm/month (1.2 to 2.6)"},
		{reports.Estimate{Value: -0.02, Low: -0.6, High: 0.01}, rate(layers.MM), "0.0 mm/month (−0.6 to 0.0)"},
		{reports.Estimate{Value: 1.52, Low: 1.487, High: 1.55}, rate(layers.MM), "1.52 mm/month (1.49 to 1.55)"},
		{reports.Estimate{Value: 9.97, Low: 9.2, High: 10.4}, length(layers.MM), "10 mm (9 to 10)"},
		{reports.Estimate{Value: 25.4, Low: 24, High: 26}, length(layers.Inches), "1.00 in (0.94 to 1.02)"},
		{reports.Estimate{Value: 80, Low: 79, High: 81, AtLeast: true}, length(layers.MM), "at least 80 mm (79 to 81)"},
		{reports.Estimate{Value: 0.00042, Low: 0.0001, High: 0.0009}, ammonia(), "0.0004 mg N/L (0.0001 to 0.0009)"},
		{reports.Estimate{Value: 5, Low: 3.14, High: 6.6}, oxygen(), "5.0 mg/L (3.1 to 6.6)"},
	} {
		if got := p.estimate(test.estimate, test.measure); got != test.want {
			t.Errorf("found %q, want %q", got, test.want)
		}
	}
}

func TestConfidenceWords(t *testing.T) {
	for share, want := range map[float64]string{
		1: "Sure: 100 of 100", 0.999: "Sure: 99 of 100", 0.86: "Fairly sure: 86", 0.64: "Rather likely: 64", 0.4: "Undecided: 40",
	} {
		if got := confidenceWords(share) + ": " + draws(share); !strings.HasPrefix(got, want) {
			t.Errorf("%v: found %q, want %q", share, got, want)
		}
	}
}

func TestFrontWords(t *testing.T) {
	for _, test := range []struct {
		value, low, high float64
		want             string
	}{
		{-2, -3, -1, "rising toward the surface"},
		{2, 1, 3, "sinking away from the surface"},
		{-0.2, -0.5, 0.1, "rising toward the surface, or standing still"},
		{0, -1, 1, "standing still"},
	} {
		if got := frontWords(*estimate(test.value, test.low, test.high, "")); got != test.want {
			t.Errorf("%v: found %q, want %q", test.value, got, test.want)
		}
	}
}

func TestForecastWords(t *testing.T) {
	early, middle, late := datePtr("2027-08-01"), datePtr("2028-06-01"), datePtr("2030-01-01")
	for _, test := range []struct {
		forecast reports.Forecast
		want     string
	}{
		{reports.Forecast{Earliest: early, Expected: middle, Latest: late},
			"The mulm reaches its limit of 50 mm about 2028-06-01, on 2027-08-01 at the earliest, on 2030-01-01 at the latest."},
		{reports.Forecast{Earliest: early, Expected: middle},
			"The mulm reaches its limit of 50 mm about 2028-06-01, on 2027-08-01 at the earliest; it may never."},
		{reports.Forecast{Earliest: early}, "The mulm may never reach its limit of 50 mm; on 2027-08-01 at the earliest."},
		{reports.Forecast{}, "As things go, the mulm may never reach its limit of 50 mm."},
	} {
		if got := forecastWords(test.forecast, "50 mm"); got != test.want {
			t.Errorf("found %q, want %q", got, test.want)
		}
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
