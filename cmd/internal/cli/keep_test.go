package cli_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"panecore/cmd/internal/programtest"
	"panecore/layers"
	"panecore/layers/logbook"
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
	w := programtest.NewWorld(map[string]string{"PANECORE_LOGBOOK": k.logbook})
	w.Stdin, w.StdinIsTerminal = strings.NewReader(k.answer), true
	if code := w.Run(args...); code != want {
		k.Fatalf("%q: exit code %d, want %d: %s", args, code, want, &w.Told)
	}
	k.stdout, k.stderr = w.Printed.String(), w.Told.String()
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

// photoDay is 2026-11-25, the day of the tests.
var photoDay = layers.DateOf(programtest.NewWorld(nil).Now())

// photographed is a keeper whose kettle has one core, read from a photo.
func photographed(t *testing.T) *keeper {
	k := newKeeper(t)
	k.run(0, "tank", "add", "kettle")
	book, err := logbook.Open(t.Context(), k.logbook, false)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	content := []byte("a picture of the glass")
	core := layers.Core{
		Date: photoDay, Station: "front",
		Photo:  &layers.Photo{SHA256: fmt.Sprintf("%x", sha256.Sum256(content)), Surface: layers.Edge{HighestMM: -1.1, LowestMM: 1.3}},
		Layers: []layers.Layer{{ThicknessMM: 12, Edge: &layers.Edge{ErrorMM: 0.3, HighestMM: 11, LowestMM: 13.2}}, {ThicknessMM: 4}},
	}
	photo := logbook.Photo{Kind: "jpeg", Width: 40, Height: 30, Picks: []byte("{}"), Preview: []byte("small")}
	if _, err := book.FileCore(t.Context(), programtest.NewWorld(nil).Now(), "kettle", core, photo, content, false); err != nil {
		t.Fatal(err)
	}
	return k
}

// Photos go with a backup, and check tells when one of them is gone or changed.
func TestBackup_photos(t *testing.T) {
	k := photographed(t)
	k.run(0, "check")
	backup := filepath.Join(t.TempDir(), "copy.db")
	k.run(0, "backup", backup)
	if want := "panecore: copied the logbook to " + backup + ", its photos to " + backup + ".photos: 1\n"; k.stderr != want {
		t.Errorf("told %q, want %q", k.stderr, want)
	}
	file, err := filepath.EvalSymlinks(k.logbook) // some systems' folder for temporary files is a link
	if err != nil {
		t.Fatal(err)
	}
	photos, err := filepath.Glob(logbook.PhotoFolder(file) + "/*.jpeg")
	if err != nil || len(photos) != 1 {
		t.Fatalf("found %q, %v", photos, err)
	}
	if err := os.WriteFile(photos[0], []byte("a picture of the cat__"), 0o666); err != nil {
		t.Fatal(err)
	}
	k.run(1, "check")
	if want := "tank \"kettle\", core front " + photoDay.String() + ", photo: found a changed file " + photos[0] +
		"; copy it back from a backup's folder of photos, or read the photo again\n"; k.stdout != want {
		t.Errorf("told %q, want %q", k.stdout, want)
	}
	k.run(0, "backup", backup+"2")
	if want := "panecore: copied the logbook to " + backup + "2\npanecore: left out photos that are missing or changed: 1; 'panecore check' shows which\n"; k.stderr != want {
		t.Errorf("told %q, want %q", k.stderr, want)
	}
	k.logbook = backup
	k.run(0, "check", "--json")
	if !strings.Contains(k.stdout, `"problems": []`) || !strings.Contains(k.stdout, `"remarks": []`) {
		t.Errorf("told %q of the backup", k.stdout)
	}
}

// Layers that are typed over a reading from a photo were read by eye; anything else
// changed of it leaves it read from the photo.
func TestCoreAmend_photographed(t *testing.T) {
	k := photographed(t)
	date := photoDay.String()
	k.run(0, "core", "amend", "kettle", "--date", date, "--note", "ragged")
	k.run(0, "core", "list", "kettle")
	if !strings.Contains(k.stdout, "read from photo ") {
		t.Errorf("listed %q", k.stdout)
	}
	k.run(0, "core", "show", "kettle")
	if want := "* at 12 mm: from 11 to 13 mm, the mean good to 0.3 mm\n"; !strings.HasSuffix(k.stdout, want) {
		t.Errorf("shown %q, want %q at the end", k.stdout, want)
	}
	k.run(0, "core", "amend", "kettle", "--date", date, "12mm #8b5e3c")
	k.run(0, "core", "show", "kettle")
	if strings.Contains(k.stdout, "photo") {
		t.Errorf("shown %q after it was typed over", k.stdout)
	}
	k.run(0, "check")
	k.run(0, "undo")
	k.run(0, "core", "show", "kettle")
	if !strings.Contains(k.stdout, "read from photo ") {
		t.Errorf("shown %q after undo", k.stdout)
	}
}
