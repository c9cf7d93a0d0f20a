package shell

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/layers/logbook"
)

func environment(pairs ...string) func(string) string {
	return func(name string) string {
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == name {
				return pairs[i+1]
			}
		}
		return ""
	}
}

// The folders are those of the XDG Base Directory Specification 0.8, Apple's File
// System Programming Guide and Microsoft's list of known folders (FOLDERID_LocalAppData).
func TestDataFolder(t *testing.T) {
	for _, test := range []struct {
		name, system string
		getenv       func(string) string
		want         string
	}{
		{"XDG", "linux", environment("XDG_DATA_HOME", "/data", "HOME", "/home/k"), "/data"},
		{"XDG relative", "linux", environment("XDG_DATA_HOME", "data", "HOME", "/home/k"), "/home/k/.local/share"},
		{"Linux", "linux", environment("HOME", "/home/k"), "/home/k/.local/share"},
		{"BSD", "freebsd", environment("HOME", "/home/k"), "/home/k/.local/share"},
		{"macOS", "darwin", environment("HOME", "/Users/k", "XDG_DATA_HOME", "/data"), "/Users/k/Library/Application Support"},
		{"Windows", "windows", environment("LocalAppData", `D:\Local`, "UserProfile", `C:\Users\k`), `D:\Local`},
		{"Windows, bare", "windows", environment("UserProfile", `C:\Users\k`), filepath.Join(`C:\Users\k`, "AppData", "Local")},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, err := dataFolder(test.system, test.getenv)
			if err != nil || got != filepath.FromSlash(test.want) {
				t.Errorf("got %q, %v, want %q", got, err, test.want)
			}
		})
	}
}

func TestDataFolder_homeless(t *testing.T) {
	for system, variable := range map[string]string{"linux": "HOME", "darwin": "HOME", "windows": "UserProfile"} {
		got, err := dataFolder(system, environment())
		if err == nil || !strings.Contains(err.Error(), variable+" is not set, want --logbook FILE or PANECORE_LOGBOOK") {
			t.Errorf("%s: got %q, %v", system, got, err)
		}
	}
}

func TestBookPath_flagBeforeVariableBeforeFolder(t *testing.T) {
	home := t.TempDir() // absolute on every system
	folders := []string{"HOME", home, "XDG_DATA_HOME", home, "LocalAppData", home}
	s := &Shell{Env: Env{Getenv: environment(folders...)}}
	if got, err := s.BookPath(); err != nil || !strings.HasSuffix(got, filepath.Join("panecore", "logbook.db")) {
		t.Errorf("by folder: %q, %v", got, err)
	}
	s.Env.Getenv = environment(append(folders, bookVariable, "variable.db")...)
	if got, err := s.BookPath(); err != nil || got != "variable.db" {
		t.Errorf("by variable: %q, %v", got, err)
	}
	s.Logbook = "flag.db"
	if got, err := s.BookPath(); err != nil || got != "flag.db" {
		t.Errorf("by flag: %q, %v", got, err)
	}
}

// The keeper's slips are told from the machine's failures.
func TestBookFault_slipsAndFailures(t *testing.T) {
	trouble := func(t logbook.Trouble) error {
		return &logbook.FileError{Path: "a.db", Trouble: t, Found: "this", Want: "that"}
	}
	for _, test := range []struct {
		err  error
		slip bool // the keeper's
		line string
	}{
		{trouble(logbook.Missing), true, "a.db: found this, want that"},
		{trouble(logbook.Foreign), true, "a.db: found this, want that"},
		{trouble(logbook.Newer), true, "a.db: found this, want that"},
		{trouble(logbook.Exists), true, "a.db: found this, want that"},
		{trouble(logbook.Damaged), false, "a.db: found this, want that"},
		{trouble(logbook.Denied), false, "a.db: found this, want that"},
		{trouble(logbook.Busy), false, "a.db: found this, want that"},
		{trouble(logbook.Full), false, "a.db: found this, want that"},
		{errors.New("spilt"), false, "spilt"},
		{layers.Faults{{Where: "x", Found: "this", Want: "that"}}, true, "x: found this, want that"},
		{&logbook.ConflictError{Faults: layers.Faults{{Where: "x", Found: "1", Want: "2"}, {Where: "y", Found: "1", Want: "2"}}}, true,
			"b.db: x: found 1, want 2\nb.db: y: found 1, want 2"},
		{&logbook.NotFoundError{What: `tank "ketle"`, Near: `"kettle"`}, true, `b.db: found no tank "ketle", want one that the logbook holds: did you mean "kettle"?`},
		{&logbook.TakenError{What: `tank "kettle"`}, true, `b.db: found tank "kettle" in the logbook already, `},
		{logbook.ErrNothingToUndo, true, "b.db: found no change left to take back"},
	} {
		err := bookFault("b.db", test.err)
		var input *InputError
		if got := errors.As(err, &input); got != test.slip {
			t.Errorf("%v: the keeper's slip: %t, want %t", test.err, got, test.slip)
		}
		if !strings.HasPrefix(err.Error(), test.line) {
			t.Errorf("%v: told as %q, want %q", test.err, err, test.line)
		}
	}
}

func TestConfirm_onlyYesIsYes(t *testing.T) {
	for answer, want := range map[string]bool{"y\n": true, "YES\n": true, " yes ": true, "\n": false, "": false, "n\n": false, "yep\n": false} {
		var told strings.Builder
		s := &Shell{Env: Env{Stdin: strings.NewReader(answer), Stderr: &told, StdinIsTerminal: true}}
		got, err := s.confirm(nil, "remove it?", false)
		if err != nil || got != want {
			t.Errorf("%q: %t, %v, want %t", answer, got, err, want)
		}
		if !strings.HasPrefix(told.String(), "remove it? [y/N] ") {
			t.Errorf("%q: asked %q", answer, told.String())
		}
	}
}
