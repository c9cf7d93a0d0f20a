package logbook

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

func TestLastDate(t *testing.T) {
	if got := lastDate.String(); got != "9999-12-31" {
		t.Errorf("got %s", got)
	}
}

// What went wrong behind the program's back is found, with its place and its remedy.
func TestCheck_found(t *testing.T) {
	const entry = ": remove the entry and add it anew, or go on with the newest backup"
	const file = "; keep this file, and go on with the newest backup"
	for script, want := range map[string]string{
		`UPDATE cores SET layers = '[{"thickness_mm": -3, "hex": "#8b5e3c"}]'`: `tank "kettle", core front 2026-11-01, layers[0].thickness_mm: ` +
			`found -3; want a number above 0 and up to 2000 mm` + entry,
		`UPDATE cores SET layers = '[]'`:                                `tank "kettle", core front 2026-11-01, layers: found an empty list; want at least one layer` + entry,
		`UPDATE cores SET signs = 'gas'`:                                `tank "kettle", core front 2026-11-01, signs[0]: found "gas"; want gas-bubbles, egg-smell, plant-melt, dead-animal, gasping, white-threads, roots-deep or burrowers` + entry,
		`UPDATE cores SET date = '2026-13-01'`:                          `tank "kettle", date: found "2026-13-01"; want a day of the calendar as YYYY-MM-DD, 1980-01-01 or later` + entry,
		`UPDATE water_tests SET ph = 14`:                                `tank "kettle", water[0].ph: found 14; want a number from 4 to 11` + entry,
		`UPDATE setups SET flow = 'fast'`:                               `tank "kettle", flow: found "fast"; want still, livestock, bubbled or pumped` + entry,
		`UPDATE setups SET native = '[{"kind": "sand"}]'`:               `tank "kettle", native[0].hex: found nothing; want this field: it can't be left out` + entry,
		`UPDATE setups SET limits = '{"mulm_mm": 0}'`:                   `tank "kettle", limits, mulm_mm: found 0; want a number from 1 to 500 (mm)` + entry,
		`UPDATE setups SET set_up = '2026-11-02'`:                       `tank "kettle", core front 2026-11-01, date: found 2026-11-01; want 2026-11-02 (the tank's set_up) or later` + entry,
		`UPDATE setups SET until = 1`:                                   `tank "kettle": found cores of a tank that is not there; add the tank anew`,
		`UPDATE prototypes SET band = 'mud'`:                            `prototype mulm1 of tank "kettle", band: found "mud"; want a band's name` + entry,
		`PRAGMA ignore_check_constraints = 1; UPDATE cores SET lit = 7`: `file: found CHECK constraint failed in cores` + file,
		`PRAGMA foreign_keys = 0; UPDATE cores SET tank = 'nowhere'`:    `file: found a row of cores (1) that belongs to none of tanks` + file,
	} {
		path := bookFile(t)
		b := open(t, path, false)
		if err := b.AddPrototype(context.Background(), noon, Prototype{Tank: "kettle", Name: "mulm1", Band: 1, Spread: 5}); err != nil {
			t.Fatal(err)
		}
		checkClean(t, b)
		b.Close()
		hinder(t, path, script)
		b = open(t, path, false)
		found, err := b.Check(context.Background())
		b.Close()
		lines := linesOf(found.Problems)
		if err != nil || !slices.Contains(lines, want) {
			t.Errorf("%s: got %q, %v, want %q", script, lines, err, want)
		}
	}
}

// A logbook that lacks a table or a column is never told to be sound, with or without a tank in it.
func TestCheck_lacking(t *testing.T) {
	filled, empty := bookFile(t), emptyBookFile(t)
	for _, table := range tables {
		dropped := "PRAGMA foreign_keys = 0; DROP TABLE " + table.name
		checkNotSound(t, filled, dropped)
		checkNotSound(t, empty, dropped)
		if table != photos { // of which the check asks what it needs only
			names := table.names()
			checkNotSound(t, filled, "ALTER TABLE "+table.name+" RENAME COLUMN "+names[len(names)-1]+" TO gone")
		}
	}
}

func checkNotSound(t *testing.T, path, script string) {
	t.Helper()
	short := filepath.Join(t.TempDir(), "short.db")
	if err := os.WriteFile(short, readFile(t, path), 0o600); err != nil {
		t.Fatal(err)
	}
	hinder(t, short, script)
	b, err := Open(context.Background(), short, false)
	if err != nil {
		return // told at the door
	}
	defer b.Close()
	if found, err := b.Check(context.Background()); err == nil && found.Problems == nil {
		t.Errorf("%s: nothing found", script)
	}
}

func emptyBookFile(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "empty.db")
	if err := open(t, path, true).Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

func linesOf(problems []Problem) (lines []string) {
	for _, p := range problems {
		lines = append(lines, p.String())
	}
	return lines
}
