package logbook

import (
	"context"
	"fmt"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
)

// formerVersions are logbooks as earlier versions of the program left them.
const formerVersions = "../../testdata/logbook/"

// ofVersion is a logbook of a former version, with its export.
func ofVersion(t *testing.T, version string) (path, document string) {
	t.Helper()
	return sqliteFile(t, string(readFile(t, formerVersions+version+".sql"))), string(readFile(t, formerVersions+version+".json"))
}

func TestOpen_formerVersions(t *testing.T) {
	for version, want := range map[string]struct {
		number int
		undo   string
		cores  int // of the kettle, the amended and the removed one among them
		swatch int // prototypes
		shots  int // photos beside the file
	}{
		"v1": {1, `tank "jar" retired`, 5, 0, 0},
		"v2": {2, `tank "jar" retired`, 6, 2, 0},
		"v3": {3, `core front 2026-11-27 of tank "kettle" amended`, 9, 2, 2},
	} {
		t.Run(version, func(t *testing.T) {
			path, document := ofVersion(t, version)
			b := open(t, path, false)
			defer b.Close()
			for n := range want.shots {
				if err := b.photos.keep(photoFile{sumOf(shotOf(n + 1)), "jpeg"}, shotOf(n+1)); err != nil {
					t.Fatal(err)
				}
			}
			checkClean(t, b)
			if got := export(t, b); got != document {
				t.Errorf("got\n%s\nwant\n%s", got, document)
			}
			got := folderOf(t, path)
			got = slices.DeleteFunc(got, func(name string) bool { return !strings.HasPrefix(name, "file.db.v") })
			var backups []string
			for v := want.number; v < len(steps()); v++ {
				backups = append(backups, fmt.Sprint("file.db.v", v))
			}
			if !slices.Equal(got, backups) {
				t.Errorf("found %q, want the backups %q beside the logbook", got, backups)
			}
			ctx := context.Background()
			if swatches, err := b.Prototypes(ctx, ""); err != nil || len(swatches) != want.swatch {
				t.Errorf("found %v, %v, want %d prototypes", swatches, err, want.swatch)
			}
			if last, err := b.Undo(ctx, noon, 0); err != nil || last.What != want.undo {
				t.Errorf("took back %v, %v, want %s", last, err, want.undo)
			}
			if err := b.AddPrototype(ctx, noon, Prototype{Name: "mulm2", Band: 1, Spread: 5}); err != nil {
				t.Error(err)
			}
			core := photoCore(1)
			core.Date, core.Sure = layers.DateOf(noon), true
			if _, err := b.FileCore(ctx, noon, "kettle", core, anyShot, shotOf(1), false); err != nil {
				t.Error(err)
			}
			former, err := b.Cores(ctx, "kettle", true)
			if err != nil || len(former) != want.cores+1 {
				t.Fatalf("found %d cores, %v, want %d and a new one", len(former), err, want.cores)
			}
			if got := former[want.cores].Core; !reflect.DeepEqual(got, core) {
				t.Errorf("found %+v, want %+v", got, core)
			}
		})
	}
}

// The backup is the logbook as it was: it can be opened in the place of the other,
// and then has a backup of its own.
func TestOpen_formerBackup(t *testing.T) {
	path, document := ofVersion(t, "v1")
	open(t, path, false).Close()
	backups := []string{path + ".v1", path + ".v1.v1"}
	for v := 2; v < len(steps()); v++ {
		backups = append(backups, fmt.Sprint(path, ".v", v))
	}
	for _, backup := range backups {
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
	path, _ := ofVersion(t, "v1")
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
	path, _ := ofVersion(t, "v1")
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
	if backups, _ := filepath.Glob(path + ".v*"); len(backups) != len(steps())-1 {
		t.Errorf("found %q, want a backup of each version", backups)
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

// A field that comes with a later version brings its column, and where it tells rows apart, the
// index of those that stand.
func TestStepsOf_laterColumns(t *testing.T) {
	added := func(name, definition string, since int) column { return column{name, definition, since} }
	water, event := *waterTests.table, *events.table
	water.columns = append(slices.Clone(water.columns), added("first", "first REAL", 5), added("second", "second TEXT NOT NULL DEFAULT ''", 6))
	event.columns = append(slices.Clone(event.columns), added("depth_in", "depth_in REAL", 6))
	event.keys++
	steps := stepsOf([]*table{&water, &event})
	if len(steps) != 6 {
		t.Fatalf("found %d steps, want 6", len(steps))
	}
	path := sqliteFile(t, strings.Join(steps, "\n")+`
		INSERT INTO changes VALUES (1, '', '', NULL);
		INSERT INTO tanks VALUES ('a');
		INSERT INTO water_tests (tank, date, time, first, second, since) VALUES ('a', '2026-11-01', '', 0.5, 'x', 1);
		INSERT INTO events (tank, date, kind, note, since) VALUES ('a', '2026-11-01', 'note', '', 1);
		INSERT INTO events (tank, date, kind, note, depth_in, since) VALUES ('a', '2026-11-01', 'note', '', 0.5, 1);`)
	for _, twin := range []string{
		"INSERT INTO events (tank, date, kind, note, since) VALUES ('a', '2026-11-01', 'note', '', 1)",
		"INSERT INTO events (tank, date, kind, note, depth_in, since) VALUES ('a', '2026-11-01', 'note', '', 0.5, 1)",
	} {
		if err := execute(path, twin); err == nil {
			t.Errorf("%s: two events wholly equal stand", twin)
		}
	}
}
