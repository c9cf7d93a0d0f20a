package logbook

import (
	"context"
	"database/sql"
	"fmt"

	"panecore/layers"
)

// reader reads within one transaction, so that all it reads stood at one moment.
type reader struct {
	ctx      context.Context
	tx       *sql.Tx
	parts    layers.PartDecoder
	prepared map[string]*sql.Stmt
}

func newReader(ctx context.Context, tx *sql.Tx) *reader {
	return &reader{ctx, tx, layers.NewPartDecoder(), map[string]*sql.Stmt{}}
}

// prepare prepares a statement once; the transaction's end closes it.
func (r *reader) prepare(query string) (*sql.Stmt, error) {
	if statement, ok := r.prepared[query]; ok {
		return statement, nil
	}
	statement, err := r.tx.PrepareContext(r.ctx, query)
	if err == nil {
		r.prepared[query] = statement
	}
	return statement, err
}

func (r *reader) exec(query string, args ...any) (sql.Result, error) {
	statement, err := r.prepare(query)
	if err != nil {
		return nil, err
	}
	return statement.ExecContext(r.ctx, args...)
}

func (r *reader) each(scan func(*sql.Rows) error, query string, args ...any) error {
	statement, err := r.prepare(query)
	if err != nil {
		return err
	}
	rows, err := statement.QueryContext(r.ctx, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := scan(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// list runs a query and gathers what its rows hold.
func list[Entry any](r *reader, scan func(*sql.Rows) (Entry, error), query string, args ...any) (entries []Entry, err error) {
	err = r.each(func(rows *sql.Rows) error {
		entry, err := scan(rows)
		entries = append(entries, entry)
		return err
	}, query, args...)
	return entries, err
}

// raw scans a row of any columns.
func raw(width int) func(*sql.Rows) ([]any, error) {
	return func(rows *sql.Rows) ([]any, error) {
		row := make([]any, width)
		columns := make([]any, width)
		for i := range row {
			columns[i] = &row[i]
		}
		return row, rows.Scan(columns...)
	}
}

func text(rows *sql.Rows) (s string, err error) {
	err = rows.Scan(&s)
	return s, err
}

// setup reads a tank without its entries.
func (r *reader) setup(id string) (t layers.Tank, retired bool, err error) {
	found := false
	err = r.each(func(rows *sql.Rows) (err error) {
		found = true
		t, err = setups.scanner(r.parts)(rows, &retired)
		return within(nameOf(id), err)
	}, setups.selectStanding(), id)
	if err == nil && !found {
		err = r.noTank(id)
	}
	t.ID = id
	return t, retired, err
}

func (r *reader) noTank(id string) error {
	known, err := list(r, text, "SELECT tank FROM setups WHERE until IS NULL ORDER BY tank")
	if err != nil {
		return err
	}
	return &NotFoundError{nameOf(id), layers.Nearest(id, known)}
}

func nameOf(id string) string { return fmt.Sprintf("tank %q", id) }

func (r *reader) tank(id string) (layers.Tank, error) {
	t, _, err := r.setup(id)
	if err != nil {
		return t, err
	}
	if t.Cores, err = standing(r, cores, id); err != nil {
		return t, err
	}
	if t.Water, err = standing(r, waterTests, id); err != nil {
		return t, err
	}
	t.Events, err = standing(r, events, id)
	return t, err
}

// standing lists a tank's standing records of a table.
func standing[R any](r *reader, t *recordTable[R], tank string) ([]R, error) {
	scan := t.scanner(r.parts)
	found, err := list(r, func(rows *sql.Rows) (R, error) { return scan(rows) }, t.selectStanding(), tank)
	return found, within(nameOf(tank), err)
}
