package cli_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A keeper works on a logbook of their own, a program run a command.
type keeper struct {
	*testing.T
	logbook string
	answer  string // what is typed when the program asks
	stdout  string
	stderr  string
}

func newKeeper(t *testing.T) *keeper {
	return &keeper{T: t, logbook: filepath.Join(t.TempDir(), "log.db")}
}

func (k *keeper) run(want int, args ...string) {
	k.Helper()
	w := newWorld(map[string]string{"PANECORE_LOGBOOK": k.logbook})
	w.Stdin, w.StdinIsTerminal = strings.NewReader(k.answer), true
	if code := w.run(args...); code != want {
		k.Fatalf("%q: exit code %d, want %d: %s", args, code, want, &w.stderr)
	}
	k.stdout, k.stderr = w.stdout.String(), w.stderr.String()
}

// On a terminal the program asks before it removes, and only yes is yes.
func TestRemove_asksOnATerminal(t *testing.T) {
	k := newKeeper(t)
	k.run(0, "tank", "add", "kettle")
	k.run(0, "water", "add", "kettle", "--date", "2026-05-01", "--ph", "7.4")
	for _, answer := range []string{"", "\n", "n\n"} {
		k.answer = answer
		k.run(0, "water", "remove", "kettle", "--date", "2026-05-01")
		if want := "remove water test 2026-05-01 of tank \"kettle\"? [y/N] panecore: nothing was changed\n"; k.stderr != want {
			t.Errorf("%q: told %q, want %q", answer, k.stderr, want)
		}
		k.run(0, "water", "list", "kettle")
		if !strings.Contains(k.stdout, "7.4") {
			t.Fatalf("%q: removed", answer)
		}
	}
	k.answer = "y\n"
	k.run(0, "water", "remove", "kettle", "--date", "2026-05-01")
	k.run(0, "water", "list", "kettle")
	if strings.Contains(k.stdout, "7.4") {
		t.Error("not removed")
	}
}

// A value that no document may hold is found, told with a way to mend it, and left.
func TestCheck_findsWhatIsWrong(t *testing.T) {
	k := newKeeper(t)
	k.run(0, "tank", "add", "kettle", "--flow", "bubbled")
	k.run(0, "check")
	if k.stdout != "" || k.stderr != "panecore: "+k.logbook+": sound\n" {
		t.Errorf("told %q, %q of a sound logbook", k.stdout, k.stderr)
	}
	content, err := os.ReadFile(k.logbook)
	if err != nil {
		t.Fatal(err)
	}
	spoilt := bytes.ReplaceAll(content, []byte("bubbled"), []byte("bubbl\x1bd"))
	if bytes.Equal(spoilt, content) {
		t.Fatal("found nothing to spoil")
	}
	if err := os.WriteFile(k.logbook, spoilt, 0o666); err != nil {
		t.Fatal(err)
	}
	k.run(1, "check")
	if !strings.HasPrefix(k.stdout, `tank "kettle", flow: found "bubbl\x1bd"; want still, `) || !strings.Contains(k.stdout, "backup") {
		t.Errorf("told %q", k.stdout)
	}
	if want := "panecore: " + k.logbook + ": found problems: 1, want none\n"; k.stderr != want {
		t.Errorf("told %q, want %q", k.stderr, want)
	}
	k.run(1, "check", "--json")
	if !strings.Contains(k.stdout, `"where": "tank \"kettle\", flow"`) {
		t.Errorf("as JSON: %s", k.stdout)
	}
	if after, err := os.ReadFile(k.logbook); err != nil || !bytes.Equal(after, spoilt) {
		t.Errorf("the file has changed, %v", err)
	}
}
