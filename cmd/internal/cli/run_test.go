package cli_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"syscall"
	"testing"
	"time"

	"panecore/cmd/internal/programtest"
	"panecore/layers"
)

// swatch begins a colour of 24 or of 8 bits behind the text.
const trueColor, color256 = "\x1b[48;2;", "\x1b[48;5;"

func TestRun_colour(t *testing.T) {
	xterm := map[string]string{"TERM": "xterm-256color", "COLORTERM": "truecolor"}
	for name, check := range map[string]struct {
		terminal bool
		environ  map[string]string
		args     []string
		want     string // the colour's beginning; empty: none
	}{
		"terminal":                    {true, xterm, nil, trueColor},
		"no terminal":                 {false, xterm, nil, ""},
		"terminal of 256 colours":     {true, map[string]string{"TERM": "xterm-256color"}, nil, color256},
		"terminal of 16 colours":      {true, map[string]string{"TERM": "xterm"}, nil, ""},
		"dumb terminal":               {true, map[string]string{"TERM": "dumb"}, nil, ""},
		"NO_COLOR that is no boolean": {true, map[string]string{"TERM": "xterm-256color", "NO_COLOR": "yes"}, nil, ""},
		"NO_COLOR empty":              {true, map[string]string{"TERM": "xterm-256color", "NO_COLOR": ""}, nil, color256},
		"never":                       {true, xterm, []string{"--color", "never"}, ""},
		"auto":                        {true, xterm, []string{"--color", "auto"}, trueColor},
		"always beats no terminal":    {false, xterm, []string{"--color", "always"}, trueColor},
		"always beats NO_COLOR":       {false, map[string]string{"NO_COLOR": "1"}, []string{"--color", "always"}, color256},
	} {
		t.Run(name, func(t *testing.T) {
			w := programtest.NewWorld(check.environ)
			w.StdoutIsTerminal = check.terminal
			if code := w.Run(append([]string{"bands"}, check.args...)...); code != 0 {
				t.Fatalf("exit code %d: %s", code, &w.Told)
			}
			got := w.Printed.String()
			if check.want == "" && strings.Contains(got, "\x1b") {
				t.Error("found colour, want none")
			}
			if !strings.Contains(got, check.want) {
				t.Errorf("found no colour that begins %q", check.want)
			}
		})
	}
}

func TestRun_locale(t *testing.T) {
	for name, check := range map[string]struct {
		environ map[string]string
		ascii   bool
	}{
		"none":              {nil, true},
		"C":                 {map[string]string{"LANG": "C"}, true},
		"UTF-8":             {map[string]string{"LANG": "de_DE.UTF-8"}, false},
		"utf8":              {map[string]string{"LC_CTYPE": "C.utf8"}, false},
		"LC_ALL beats LANG": {map[string]string{"LC_ALL": "POSIX", "LANG": "en_GB.UTF-8"}, true},
		"Latin-1":           {map[string]string{"LANG": "en_GB.ISO-8859-1"}, true},
	} {
		t.Run(name, func(t *testing.T) {
			w := programtest.NewWorld(check.environ)
			if code := w.Run("demo"); code != 0 {
				t.Fatalf("exit code %d: %s", code, &w.Told)
			}
			beyond := strings.IndexFunc(w.Printed.String(), func(r rune) bool { return r > 127 })
			if (beyond < 0) != check.ascii {
				t.Errorf("ASCII only: %v, want %v", beyond < 0, check.ascii)
			}
		})
	}
}

func TestRun_width(t *testing.T) {
	widest := func(columns string, terminal int) int {
		w := programtest.NewWorld(map[string]string{"COLUMNS": columns, "LANG": "C"})
		w.StdoutIsTerminal, w.StdoutWidth = terminal > 0, terminal
		if code := w.Run("demo"); code != 0 {
			t.Fatalf("exit code %d: %s", code, &w.Told)
		}
		width := 0
		for line := range strings.Lines(w.Printed.String()) {
			width = max(width, len(strings.TrimRight(line, "\n")))
		}
		return width
	}
	for _, check := range []struct {
		columns        string
		terminal, want int
	}{
		{"", 0, 80}, {"120", 0, 120}, {"120", 60, 60}, {"wide", 0, 80}, {"-5", 0, 80},
	} {
		if got := widest(check.columns, check.terminal); got > check.want || got < check.want*3/4 {
			t.Errorf("COLUMNS=%q, terminal of %d: lines of up to %d, want up to %d", check.columns, check.terminal, got, check.want)
		}
	}
}

// A failing writer stands for a standard output that takes nothing.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

func TestRun_outputFails(t *testing.T) {
	for _, command := range [][]string{{"demo"}, {"demo", "--json"}, {"bands"}, {"help"}, {"--version"}} {
		closed := programtest.NewWorld(nil)
		closed.Stdout = failing{syscall.EPIPE}
		if code := closed.Run(command...); code != 0 || strings.Contains(closed.Told.String(), "pipe") {
			t.Errorf("%v into a closed pipe: exit code %d, %q", command, code, &closed.Told)
		}
		full := programtest.NewWorld(nil)
		full.Stdout = failing{syscall.ENOSPC}
		want := "panecore: standard output: " + syscall.ENOSPC.Error() + "\n"
		if code := full.Run(command...); code != 1 || !strings.HasSuffix(full.Told.String(), want) {
			t.Errorf("%v onto a full disk: exit code %d, %q, want 1 and %q", command, code, &full.Told, want)
		}
	}
}

func TestRun_inputFails(t *testing.T) {
	w := programtest.NewWorld(nil)
	w.Stdin = io.MultiReader(strings.NewReader(`{"format": "panecore/1",`), reader{syscall.EIO})
	want := "panecore: standard input: reading the logbook document: " + syscall.EIO.Error() + "\n"
	if code := w.Run("interpret", "-"); code != 1 || w.Told.String() != want || w.Printed.Len() > 0 {
		t.Errorf("exit code %d, %q, want 1 and %q", code, &w.Told, want)
	}
}

type reader struct{ err error }

func (r reader) Read([]byte) (int, error) { return 0, r.err }

func TestRun_waitsForTerminal(t *testing.T) {
	for _, terminal := range []bool{false, true} {
		w := programtest.NewWorld(nil)
		w.Stdin, w.StdinIsTerminal = strings.NewReader(`{"format": "panecore/1", "tanks": []}`), terminal
		if code := w.Run("interpret", "-"); code != 0 {
			t.Fatalf("exit code %d: %s", code, &w.Told)
		}
		if told := strings.Contains(w.Told.String(), "from the terminal"); told != terminal {
			t.Errorf("stdin is a terminal: %v, said so: %v", terminal, told)
		}
	}
}

// The clock decides what a future date is, and the demo heeds no clock.
func TestRun_clock(t *testing.T) {
	document := `{"format": "panecore/1", "tanks": [{"id": "hall", "cores": [
		{"date": "2026-11-26", "station": "front", "layers": [{"thickness_mm": 12, "hex": "#8b5e3c"}]}]}]}`
	w := programtest.NewWorld(nil)
	w.Stdin = strings.NewReader(document)
	if code := w.Run("interpret", "-"); code != 2 || !strings.Contains(w.Told.String(), "2026-11-26") {
		t.Errorf("a core of tomorrow: exit code %d, %q", code, &w.Told)
	}
	early := programtest.NewWorld(nil)
	early.Now = func() time.Time { return time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC) }
	if code := early.Run("demo"); code != 0 {
		t.Errorf("the demo in 2001: exit code %d, %q", code, &early.Told)
	}
}

// A document of more stations than a tank can have is refused in one line, before hours of drawing.
func TestRun_stations(t *testing.T) {
	var cores []string
	for i := range layers.MaxStations + 1 {
		cores = append(cores, fmt.Sprintf(`{"date": "2026-11-01", "station": "s%d", "layers": [{"thickness_mm": 12, "hex": "#8b5e3c"}]}`, i))
	}
	w := programtest.NewWorld(nil)
	w.Stdin = strings.NewReader(`{"format": "panecore/1", "tanks": [{"id": "hall", "cores": [` + strings.Join(cores, ",") + `]}]}`)
	want := "panecore: standard input: tank \"hall\", cores[1000], station: found \"s1000\", one station more, want at most 1000 stations a tank\n"
	if code := w.Run("interpret", "-"); code != 2 || w.Told.String() != want {
		t.Errorf("exit code %d, told %q, want 2 and %q", code, &w.Told, want)
	}
}

func TestRun_jsonIsOneValue(t *testing.T) {
	for _, command := range [][]string{
		{"demo"}, {"demo", "--history"}, {"bands"}, {"ammonia", "--total", "1", "--ph", "8", "--temp", "25C"},
	} {
		w := programtest.NewWorld(nil)
		if code := w.Run(append(command, "--json")...); code != 0 {
			t.Fatalf("%v: exit code %d: %s", command, code, &w.Told)
		}
		if !json.Valid(w.Printed.Bytes()) || !bytes.HasPrefix(w.Printed.Bytes(), []byte("{\n  \"format\": \"panecore-")) ||
			!bytes.HasSuffix(w.Printed.Bytes(), []byte("}\n")) {
			t.Errorf("%v: not one JSON value: %.60q…", command, &w.Printed)
		}
	}
}
