package logbook

import (
	"bytes"
	"context"
	"slices"
	"time"

	"panecore/layers"
)

// A Change is one acknowledged write.
type Change struct {
	At   time.Time // UTC, to the second
	What string    // as in `core front 2026-11-01 of tank "kettle" added`
}

// moment scans the time of a change, which may be empty.
type moment struct{ value *time.Time }

func (m moment) Scan(column any) (err error) {
	if text, _ := column.(string); text != "" {
		*m.value, err = time.Parse(time.RFC3339, text)
	}
	return err
}

func stamp(at time.Time) string { return at.UTC().Format(time.RFC3339) }

// change is a change being made. It reads what it has written.
type change struct {
	*reader
	today layers.Date // the newest date it may write down
	id    int64
	what  string // empty: nothing has changed
}

// write runs a function within a transaction that no other program writes beside.
// What it wrote is on disk when write returns nil, unless it had nothing to keep.
func (b *Book) write(ctx context.Context, write func(*reader) (keep bool, err error)) error {
	tx, err := b.db.BeginTx(ctx, nil)
	if err != nil {
		return b.explain(err)
	}
	defer tx.Rollback()
	keep, err := write(newReader(ctx, tx))
	if err != nil || !keep {
		return b.explain(err)
	}
	return b.explain(tx.Commit())
}

// change makes one change. One that changes nothing leaves no trace.
func (b *Book) change(ctx context.Context, at time.Time, make func(*change) error) error {
	return b.write(ctx, func(r *reader) (keep bool, err error) {
		result, err := r.exec("INSERT INTO changes (at, what) VALUES (?, '')", stamp(at))
		if err != nil {
			return false, err
		}
		c := &change{reader: r, today: layers.DateOf(at)}
		if c.id, err = result.LastInsertId(); err != nil {
			return false, err
		}
		if err := make(c); err != nil {
			return false, err
		}
		_, err = r.exec("UPDATE changes SET what = ? WHERE id = ?", c.what, c.id)
		return c.what != "", err
	})
}

// check holds tanks to the rules of a document and returns them as one is read.
// today is the newest date that they may bear.
func check(today layers.Date, tanks ...layers.Tank) ([]layers.Tank, error) {
	var document bytes.Buffer
	if err := layers.Encode(&document, tanks); err != nil {
		return nil, err
	}
	return layers.Decode(&document, today)
}

// find is the standing row of a tank and a key, or nil.
func (c *change) find(t *table, tank any, key []any) (found []any, err error) {
	rows, err := list(c.reader, raw(len(t.columns)), t.selectOne(), slices.Insert(slices.Clone(key), 0, tank)...)
	if len(rows) > 0 {
		found = rows[0]
	}
	return found, err
}

// mustFind is find for a key that must be there.
func (c *change) mustFind(t *table, tank any, key []any) ([]any, error) {
	row, err := c.find(t, tank, key)
	if err != nil || row != nil {
		return row, err
	}
	others, err := list(c.reader, raw(len(t.columns)), t.selectStanding(), tank)
	if err != nil {
		return nil, err
	}
	known := make([]string, len(others))
	for i, other := range others {
		known[i] = t.of(other)
	}
	return nil, &NotFoundError{t.called(tank, key), layers.Nearest(t.of(key), known)}
}

// add brings a row whose key must be free.
func (c *change) add(t *table, tank any, row []any) error {
	former, err := c.find(t, tank, t.keyIn(row))
	if err != nil {
		return err
	}
	if former != nil {
		return &TakenError{t.called(tank, row)}
	}
	c.what = t.called(tank, row) + " added"
	if err := c.insert(t, tank, row); err != nil || t != cores.table {
		return err
	}
	return c.checkStations(tank.(string))
}

// remove ends the row of a key.
func (c *change) remove(t *table, tank any, key []any) error {
	if id, ok := tank.(string); ok {
		if _, _, err := c.setup(id); err != nil {
			return err
		}
	}
	if _, err := c.mustFind(t, tank, key); err != nil {
		return err
	}
	c.what = t.called(tank, key) + " removed"
	return c.end(t, tank, key)
}

// amend puts a row in the place of the one of a key.
func (c *change) amend(t *table, tank any, key, row []any) error {
	former, err := c.mustFind(t, tank, key)
	if err != nil || slices.Equal(former, row) {
		return err
	}
	if err := c.end(t, tank, key); err != nil {
		return err
	}
	if err := c.add(t, tank, row); err != nil {
		return err
	}
	c.what = t.called(tank, key) + " amended"
	return nil
}

func (c *change) insert(t *table, tank any, row []any) error {
	_, err := c.exec(t.insertOne(), append(slices.Clone(row), tank, c.id)...)
	return err
}

func (c *change) end(t *table, tank any, key []any) error {
	_, err := c.exec(t.endOne(), append([]any{c.id, tank}, key...)...)
	return err
}

// checked holds a record to the rules of a document, within a tank that the logbook holds.
func checked[R any](c *change, t *recordTable[R], tank string, record R) (R, error) {
	setup, _, err := c.setup(tank)
	if err != nil {
		return record, err
	}
	within := layers.Tank{ID: tank, SetUp: setup.SetUp}
	*t.in(&within) = []R{record}
	tanks, err := check(c.today, within)
	if err != nil {
		return record, err
	}
	return (*t.in(&tanks[0]))[0], nil
}

// addRecord adds a record to a tank that has none of its key.
func addRecord[R any](ctx context.Context, b *Book, at time.Time, t *recordTable[R], tank string, record R) error {
	return b.change(ctx, at, func(c *change) error {
		record, err := checked(c, t, tank, record)
		if err != nil {
			return err
		}
		return c.add(t.table, tank, t.row(record))
	})
}
