package cli_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"strings"
	"syscall"
	"testing"
	"time"

	"panecore/cmd/internal/cli"
	"panecore/cmd/internal/shell"
)

// A world is an outside world made up for a test.
type world struct {
	shell.Env
	stdout, stderr bytes.Buffer
}

func newWorld(environ map[string]string) *world {
	w := &world{}
	w.Env = shell.Env{
		Stdin: strings.NewReader(""), Stdout: &w.stdout, Stderr: &w.stderr,
		Getenv: func(name string) string { return environ[name] },
		Now:    func() time.Time { return time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC) },
	}
	return w
}

func (w *world) run(args ...string) (code int) { return cli.Run(context.Background(), w.Env, args) }

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
			w := newWorld(check.environ)
			w.StdoutIsTerminal = check.terminal
			if code := w.run(append([]string{"bands"}, check.args...)...); code != 0 {
				t.Fatalf("exit code %d: %s", code, &w.stderr)
			}
			got := w.stdout.String()
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
			w := newWorld(check.environ)
			if code := w.run("demo"); code != 0 {
				t.Fatalf("exit code %d: %s", code, &w.stderr)
			}
			beyond := strings.IndexFunc(w.stdout.String(), func(r rune) bool { return r > 127 })
			if (beyond < 0) != check.ascii {
				t.Errorf("ASCII only: %v, want %v", beyond < 0, check.ascii)
			}
		})
	}
}

func TestRun_width(t *testing.T) {
	widest := func(columns string, terminal int) int {
		w := newWorld(map[string]string{"COLUMNS": columns, "LANG": "C"})
		w.StdoutIsTerminal, w.StdoutWidth = terminal > 0, terminal
		if code := w.run("demo"); code != 0 {
			t.Fatalf("exit code %d: %s", code, &w.stderr)
		}
		width := 0
		for line := range strings.Lines(w.stdout.String()) {
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
		closed := newWorld(nil)
		closed.Stdout = failing{syscall.EPIPE}
		if code := closed.run(command...); code != 0 || strings.Contains(closed.stderr.String(), "pipe") {
			t.Errorf("%v into a closed pipe: exit code %d, %q", command, code, &closed.stderr)
		}
		full := newWorld(nil)
		full.Stdout = failing{syscall.ENOSPC}
		want := "panecore: standard output: " + syscall.ENOSPC.Error() + "\n"
		if code := full.run(command...); code != 1 || !strings.HasSuffix(full.stderr.String(), want) {
			t.Errorf("%v onto a full disk: exit code %d, %q, want 1 and %q", command, code, &full.stderr, want)
		}
	}
}

func TestRun_inputFails(t *testing.T) {
	w := newWorld(nil)
	w.Stdin = io.MultiReader(strings.NewReader(`{"format": "panecore/1",`), reader{syscall.EIO})
	want := "panecore: standard input: reading the logbook document: " + syscall.EIO.Error() + "\n"
	if code := w.run("interpret", "-"); code != 1 || w.stderr.String() != want || w.stdout.Len() > 0 {
		t.Errorf("exit code %d, %q, want 1 and %q", code, &w.stderr, want)
	}
}

type reader struct{ err error }

func (r reader) Read([]byte) (int, error) { return 0, r.err }

func TestRun_waitsForTerminal(t *testing.T) {
	for _, terminal := range []bool{false, true} {
		w := newWorld(nil)
		w.Stdin, w.StdinIsTerminal = strings.NewReader(`{"format": "panecore/1", "tanks": []}`), terminal
		if code := w.run("interpret", "-"); code != 0 {
			t.Fatalf("exit code %d: %s", code, &w.stderr)
		}
		if told := strings.Contains(w.stderr.String(), "from the terminal"); told != terminal {
			t.Errorf("stdin is a terminal: %v, said so: %v", terminal, told)
		}
	}
}

// The clock decides what a future date is, and the demo heeds no clock.
func TestRun_clock(t *testing.T) {
	document := `{"format": "panecore/1", "tanks": [{"id": "hall", "cores": [
		{"date": "2026-11-26", "station": "front", "layers": [{"thickness_mm": 12, "hex": "#8b5e3c"}]}]}]}`
	w := newWorld(nil)
	w.Stdin = strings.NewReader(document)
	if code := w.run("interpret", "-"); code != 2 || !strings.Contains(w.stderr.String(), "2026-11-26") {
		t.Errorf("a core of tomorrow: exit code %d, %q", code, &w.stderr)
	}
	early := newWorld(nil)
	early.Now = func() time.Time { return time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC) }
	if code := early.run("demo"); code != 0 {
		t.Errorf("the demo in 2001: exit code %d, %q", code, &early.stderr)
	}
}

func TestRun_jsonIsOneValue(t *testing.T) {
	for _, command := range [][]string{
		{"demo"}, {"demo", "--history"}, {"bands"}, {"ammonia", "--total", "1", "--ph", "8", "--temp", "25C"},
	} {
		w := newWorld(nil)
		if code := w.run(append(command, "--json")...); code != 0 {
			t.Fatalf("%v: exit code %d: %s", command, code, &w.stderr)
		}
		if !json.Valid(w.stdout.Bytes()) || !bytes.HasPrefix(w.stdout.Bytes(), []byte("{\n  \"format\": \"panecore-")) ||
			!bytes.HasSuffix(w.stdout.Bytes(), []byte("}\n")) {
			t.Errorf("%v: not one JSON value: %.60q…", command, &w.stdout)
		}
	}
}
