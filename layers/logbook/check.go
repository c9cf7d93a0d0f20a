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
)

// lastDate is 9999-12-31, the last that can be written: Check knows no today.
const lastDate layers.Date = 2932896

// Check looks through the whole logbook and lists what is wrong with it: damage to
// the file, rows that belong to nothing, and values that no document may hold.
func (b *Book) Check(ctx context.Context) (problems []Problem, err error) {
	err = b.view(ctx, func(r *reader) (err error) {
		problems, err = r.damage()
		if err != nil || problems != nil {
			return err
		}
		if problems, err = r.orphans(); err != nil {
			return err
		}
		faulty, err := r.faulty()
		problems = append(problems, faulty...)
		return err
	})
	if trouble, ok := errors.AsType[*FileError](err); ok && trouble.Trouble == Damaged {
		return append(problems, Problem{"file", trouble.Found, mendFile}), nil
	}
	return problems, err
}

// damage lists what SQLite itself finds wrong.
func (r *reader) damage() ([]Problem, error) {
	const clean = "ok"
	found, err := list(r, text, "PRAGMA integrity_check")
	if err != nil {
		return nil, err
	}
	var problems []Problem
	for _, line := range found {
		if line != clean {
			problems = append(problems, Problem{"file", line, mendFile})
		}
	}
	lost, err := list(r, func(rows *sql.Rows) (string, error) {
		var table, parent string
		var row, key any
		err := rows.Scan(&table, &row, &parent, &key)
		return fmt.Sprintf("a row of %s (%v) that belongs to none of %s", table, row, parent), err
	}, "PRAGMA foreign_key_check")
	for _, line := range lost {
		problems = append(problems, Problem{"file", line, mendFile})
	}
	return problems, err
}

// orphans lists what stands without its tank.
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
	return problems, nil
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
	}, "SELECT "+prototypes.columns()+", tank FROM prototypes WHERE until IS NULL ORDER BY "+prototypes.order())
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
