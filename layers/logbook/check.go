package logbook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"panecore/layers"
)

// A Problem is something wrong within the logbook, and how to mend it.
type Problem struct{ Where, Found, Mend string }

func (p Problem) String() string { return p.Where + ": found " + p.Found + "; " + p.Mend }

// The ways to mend.
const (
	mendFile  = "keep this file, and go on with the newest backup"
	mendEntry = "remove the entry and add it anew, or go on with the newest backup"
	mendPhoto = "copy it back from a backup's folder of photos, or read the photo again"
)

// lastDate is 9999-12-31, the last that can be written: Check knows no today.
const lastDate layers.Date = 2932896

// A Checkup is what [Book.Check] found.
type Checkup struct {
	Problems []Problem // something is lost, or can't be trusted
	Remarks  []Problem // nothing is: what a keeper may want to know
}

// Check looks through the whole logbook. Its problems are damage to the file, rows that
// belong to nothing, values that no document may hold, and photos of standing cores
// that are missing or changed. Its remarks are cores whose photo was never kept here,
// as after an import, the same troubles with photos of former cores, and files among
// the photos that belong to none.
func (b *Book) Check(ctx context.Context) (found Checkup, err error) {
	var kept []keptPhoto
	sound := false
	err = b.view(ctx, func(r *reader) (err error) {
		found.Problems, err = r.damage()
		if sound = err == nil && found.Problems == nil; !sound {
			return err
		}
		if found.Problems, err = r.orphans(); err != nil {
			return err
		}
		faulty, err := r.faulty()
		found.Problems = append(found.Problems, faulty...)
		if err != nil {
			return err
		}
		if found.Remarks, err = r.unkept(); err != nil {
			return err
		}
		kept, err = r.keptPhotos()
		return err
	})
	if trouble, ok := errors.AsType[*FileError](err); ok && trouble.Trouble == Damaged {
		found.Problems = append(found.Problems, Problem{"file", trouble.Found, mendFile})
		return found, nil
	}
	if err != nil || !sound {
		return found, err
	}
	return found, b.checkPhotos(ctx, kept, &found)
}

// damage lists what SQLite itself finds wrong.
func (r *reader) damage() (problems []Problem, err error) {
	const clean = "ok"
	found, err := list(r, text, "PRAGMA integrity_check")
	if err != nil {
		return nil, err
	}
	lost, err := list(r, func(rows *sql.Rows) (string, error) {
		var table, parent string
		var row, key any
		err := rows.Scan(&table, &row, &parent, &key)
		return fmt.Sprintf("a row of %s (%v) that belongs to none of %s", table, row, parent), err
	}, "PRAGMA foreign_key_check")
	for _, line := range append(found, lost...) {
		if line != clean {
			problems = append(problems, Problem{"file", line, mendFile})
		}
	}
	return problems, err
}

// orphans lists what stands without its tank or its core.
func (r *reader) orphans() (problems []Problem, err error) {
	for _, t := range tables {
		tanks, err := list(r, text, "SELECT DISTINCT tank FROM "+t.name+
			" WHERE until IS NULL AND tank IS NOT NULL AND tank NOT IN (SELECT tank FROM setups WHERE until IS NULL) ORDER BY tank")
		if err != nil {
			return nil, err
		}
		for _, tank := range tanks {
			problems = append(problems, Problem{nameOf(tank), t.name + " of a tank that is not there", "add the tank anew"})
		}
	}
	strays, err := list(r, scanPhotoKey, "SELECT tank, date, station FROM photos WHERE "+strayPhoto+" ORDER BY "+photos.order())
	for _, where := range strays {
		problems = append(problems, Problem{where, "a photo that its core was not read from", mendEntry})
	}
	return problems, err
}

// faulty lists the values that the rules of a document refuse.
func (r *reader) faulty() (problems []Problem, err error) {
	ids, err := list(r, text, "SELECT tank FROM setups WHERE until IS NULL ORDER BY tank")
	if err != nil {
		return nil, err
	}
	for _, id := range ids {
		tank, err := r.tank(id)
		if err == nil {
			_, err = check(lastDate, tank)
		}
		if problems, err = withFaults(problems, err); err != nil {
			return problems, err
		}
	}
	err = r.each(func(rows *sql.Rows) error {
		p, err := scanPrototype(rows)
		if faults := p.faults(); err == nil && faults != nil {
			err = faults
		}
		problems, err = withFaults(problems, err)
		return err
	}, "SELECT "+prototypes.list()+", tank FROM prototypes WHERE until IS NULL ORDER BY "+prototypes.order())
	return problems, err
}

// withFaults adds the faults that err tells of; any other error stays one.
func withFaults(problems []Problem, err error) ([]Problem, error) {
	faults, ok := errors.AsType[layers.Faults](err)
	if !ok {
		return problems, err
	}
	for _, fault := range faults {
		problems = append(problems, Problem{fault.Where, fault.Found, "want " + fault.Want + ": " + mendEntry})
	}
	return problems, nil
}
