package logbook

import (
	"context"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
)

// formerVersions are logbooks as earlier versions of the program left them.
const formerVersions = "../../testdata/logbook/"

// ofVersion1 is a logbook of version 1, with its export.
func ofVersion1(t *testing.T) (path, document string) {
	t.Helper()
	return sqliteFile(t, string(readFile(t, formerVersions+"v1.sql"))), string(readFile(t, formerVersions+"v1.json"))
}

func TestOpen_version1(t *testing.T) {
	path, document := ofVersion1(t)
	b := open(t, path, false)
	defer b.Close()
	checkClean(t, b)
	if got := export(t, b); got != document {
		t.Errorf("got\n%s\nwant\n%s", got, document)
	}
	if got := folderOf(t, path); !slices.Contains(got, "file.db.v1") {
		t.Errorf("found %q, want a backup beside the logbook", got)
	}
	if last, err := b.Undo(context.Background(), noon); err != nil || last.What != `tank "jar" retired` {
		t.Errorf("took back %v, %v", last, err)
	}
	if err := b.AddPrototype(context.Background(), noon, Prototype{Name: "mulm1", Band: 1, Spread: 5}); err != nil {
		t.Error(err)
	}
	former, err := b.Cores(context.Background(), "kettle", true)
	if err != nil || len(former) != 5 {
		t.Errorf("found %d cores, %v, want the amended and the removed one among 5", len(former), err)
	}
}

// The backup is the logbook as it was: it can be opened in the place of the other,
// and then has a backup of its own.
func TestOpen_version1Backup(t *testing.T) {
	path, document := ofVersion1(t)
	open(t, path, false).Close()
	for _, backup := range []string{path + ".v1", path + ".v1.v1"} {
		b := open(t, backup, false)
		if got := export(t, b); got != document {
			t.Errorf("%s holds\n%s", backup, got)
		}
		b.Close()
	}
}

// A step that can't be taken leaves the logbook at its version, and another try makes
// another backup.
func TestOpen_failedStep(t *testing.T) {
	path, _ := ofVersion1(t)
	for _, backup := range []string{"file.db.v1", "file.db.v1-2"} {
		hinder(t, path, "CREATE TABLE prototypes (in_the_way)")
		if b, err := Open(context.Background(), path, false); err == nil {
			b.Close()
			t.Fatal("found it open")
		}
		hinder(t, path, "DROP TABLE prototypes")
		if got := folderOf(t, path); !slices.Contains(got, backup) {
			t.Errorf("found %q, want %s", got, backup)
		}
	}
	b := open(t, path, false)
	defer b.Close()
	checkClean(t, b)
}

// hinder runs a script on a database behind the program's back.
func hinder(t *testing.T, path, script string) {
	t.Helper()
	if err := execute(path, script); err != nil {
		t.Fatal(err)
	}
}

func TestOpen_version1Crowd(t *testing.T) {
	path, _ := ofVersion1(t)
	var running []*exec.Cmd
	for i := range 4 {
		cmd := childCommand(t, "open", path, i)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, cmd)
	}
	for _, cmd := range running {
		if err := cmd.Wait(); err != nil {
			t.Error(err)
		}
	}
	if backups, _ := filepath.Glob(path + ".v1*"); len(backups) != 1 {
		t.Errorf("found %q, want one backup", backups)
	}
}

// openOnly opens a logbook and closes it.
func openOnly(ctx context.Context, path string, _ int) error {
	b, err := Open(ctx, path, false)
	if err != nil {
		return err
	}
	return b.Close()
}
