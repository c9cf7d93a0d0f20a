package logbook

import (
	"context"
	"database/sql"
	"time"
)

// LastChange is the change that Undo would take back, and its id, which is above 0.
func (b *Book) LastChange(ctx context.Context) (id int64, last Change, err error) {
	err = b.view(ctx, func(r *reader) (err error) {
		id, last, err = r.lastChange()
		return err
	})
	return id, last, err
}

// Undo takes back the last change that is not taken back yet, and returns it. The
// values it brought are kept among the former ones. Where an id is given, which is not 0,
// it takes back nothing but the change of that id: [ErrNotLast] where another is the last.
func (b *Book) Undo(ctx context.Context, at time.Time, id int64) (last Change, err error) {
	err = b.write(ctx, func(r *reader) (keep bool, err error) {
		newest, change, err := r.lastChange()
		switch {
		case err != nil:
			return false, err
		case id != 0 && id != newest:
			return false, ErrNotLast
		}
		for _, t := range tables {
			if err := r.takeBack(t, newest); err != nil {
				return false, err
			}
		}
		last = change
		_, err = r.exec("UPDATE changes SET undone = ? WHERE id = ?", stamp(at), newest)
		return true, err
	})
	return last, err
}

func (r *reader) lastChange() (id int64, last Change, err error) {
	err = r.each(func(rows *sql.Rows) error {
		return rows.Scan(&id, moment{&last.At}, &last.What)
	}, "SELECT id, at, what FROM changes WHERE undone IS NULL ORDER BY id DESC LIMIT 1")
	if err == nil && id == 0 {
		err = ErrNothingToUndo
	}
	return id, last, err
}

// takeBack ends what a change brought and lets stand again what it ended. All later
// changes are taken back already, so that no other row stands in the way.
func (r *reader) takeBack(t *table, change int64) error {
	if _, err := r.exec("UPDATE "+t.name+" SET until = since WHERE since = ? AND until IS NULL", change); err != nil {
		return err
	}
	_, err := r.exec("UPDATE "+t.name+" SET until = NULL WHERE until = ? AND since < until", change)
	return err
}
