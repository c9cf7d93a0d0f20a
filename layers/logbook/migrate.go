package logbook

import (
	"context"
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
)

//go:embed schema/1.sql
var version1 string

//go:embed schema/2.sql
var version2 string

//go:embed schema/3.sql
var version3 string

//go:embed schema/4.sql
var version4 string

// steps lists the SQL that leads from each version to the next; version 0 is an
// empty file.
func steps() []string { return stepsOf(tables) }

// stepsOf are the steps to tables of these columns: up to version 4 by hand, from there on by
// the columns that came with each version.
func stepsOf(tables []*table) []string {
	steps := []string{version1, version2, version3, version4}
	newest := len(steps)
	for _, t := range tables {
		for _, c := range t.columns {
			newest = max(newest, c.since)
		}
	}
	for version := len(steps) + 1; version <= newest; version++ {
		var step string
		for _, t := range tables {
			step += t.stepTo(version)
		}
		steps = append(steps, step)
	}
	return steps
}

// stepTo adds the columns that came with a version. Where they tell rows apart, so does the
// index of what stands.
func (t *table) stepTo(version int) (step string) {
	var keys string
	isKey := false
	for i, c := range t.columns {
		if c.since == version {
			step += "ALTER TABLE " + t.name + " ADD COLUMN " + c.definition + ";\n"
			isKey = isKey || i < t.keys
		}
		if i < t.keys && c.since <= version {
			keys += ", ifnull(" + c.name + ", '')" // NULLs would pass for different from each other
		}
	}
	if isKey {
		step += "DROP INDEX " + t.name + "_standing;\n" +
			"CREATE UNIQUE INDEX " + t.name + "_standing ON " + t.name + " (tank" + keys + ") WHERE until IS NULL;\n"
	}
	return step
}

// bringUpToDate takes the steps from the file's version to this program's.
func (b *Book) bringUpToDate(ctx context.Context, create bool) error {
	for {
		version, err := viewed(ctx, b, (*reader).version)
		switch {
		case err != nil:
			return err
		case version == 0 && !create:
			return missing(b.path)
		case version == len(steps()):
			return b.logAhead(ctx)
		}
		if err := checkVersion(b.path, version); err != nil {
			return err
		}
		if err := b.step(ctx, version); err != nil {
			return err
		}
	}
}

// logAhead has the file written by a write-ahead log, in which readers and a writer
// get along; a file keeps to it. It comes last, so that a new file is either empty or
// bears the application's id.
func (b *Book) logAhead(ctx context.Context) error {
	_, err := b.db.ExecContext(ctx, "PRAGMA journal_mode = WAL")
	err = b.explain(err)
	if isTrouble(err, Busy) { // SQLite won't wait here; another program is at it, or the next will be
		return nil
	}
	return err
}

func (r *reader) version() (version int, err error) {
	err = r.tx.QueryRowContext(r.ctx, "PRAGMA user_version").Scan(&version)
	return version, err
}

// step leads from a version to the next, or from an empty file all the way. It keeps
// other programs from writing from before the backup until the step is made.
func (b *Book) step(ctx context.Context, version int) error {
	return b.write(ctx, func(r *reader) (keep bool, err error) {
		now, err := r.version()
		if err != nil || now != version { // another program was quicker
			return false, err
		}
		next := len(steps())
		if version > 0 {
			next = version + 1
			if err := b.backUpFile(ctx, b.nameOfVersion(version)); err != nil { // the photos stay as they are
				return false, err
			}
		}
		script := strings.Join(steps()[version:next], "\n") + fmt.Sprintf("PRAGMA user_version = %d;", next)
		_, err = r.tx.ExecContext(ctx, script)
		return true, err
	})
}

// nameOfVersion is a name for the backup of a version that no file bears.
func (b *Book) nameOfVersion(version int) string {
	name := fmt.Sprintf("%s.v%d", b.path, version)
	free := name
	for i := 2; ; i++ {
		if _, err := os.Lstat(free); errors.Is(err, fs.ErrNotExist) {
			return free
		}
		free = fmt.Sprintf("%s-%d", name, i)
	}
}
