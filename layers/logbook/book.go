package logbook

import (
	"context"
	"database/sql"
	"iter"

	"panecore/layers"
)

// Book is an open logbook. It may be used by several goroutines at once, and the
// file by several programs.
type Book struct {
	db     *sql.DB
	path   string
	photos album
}

// Close ends the use of the logbook.
func (b *Book) Close() error { return b.explain(b.db.Close()) }

// view runs a function that reads the logbook as it stands at one moment.
func (b *Book) view(ctx context.Context, read func(*reader) error) error {
	tx, err := b.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return b.explain(err)
	}
	defer tx.Rollback()
	return b.explain(read(newReader(ctx, tx)))
}

// viewed is what a function reads of the logbook as it stands at one moment.
func viewed[T any](ctx context.Context, b *Book, read func(*reader) (T, error)) (found T, err error) {
	err = b.view(ctx, func(r *reader) (err error) {
		found, err = read(r)
		return err
	})
	return found, err
}

// Tank reads a tank whole, retired or not: cores by date and station, water tests
// by date and time, events by date.
func (b *Book) Tank(ctx context.Context, id string) (layers.Tank, error) {
	return viewed(ctx, b, func(r *reader) (layers.Tank, error) { return r.tank(id) })
}

// Tanks reads every tank whole, one at a time and by id, as they stood at one
// moment; retired ones only if asked. It is what a document of the whole logbook
// is written from. It ends with its first error.
func (b *Book) Tanks(ctx context.Context, retired bool) iter.Seq2[layers.Tank, error] {
	return func(yield func(layers.Tank, error) bool) {
		wanted := true
		err := b.view(ctx, func(r *reader) error {
			ids, err := list(r, text, "SELECT tank FROM setups WHERE until IS NULL AND retired <= ? ORDER BY tank", layers.OneIf(retired))
			if err != nil {
				return err
			}
			for _, id := range ids {
				tank, err := r.tank(id)
				if err != nil {
					return err
				}
				if wanted = yield(tank, nil); !wanted {
					return nil
				}
			}
			return nil
		})
		if err != nil && wanted {
			yield(layers.Tank{}, err)
		}
	}
}

// A TankEntry is a line of the list of tanks.
type TankEntry struct {
	ID, Name string
	Retired  bool
	Cores    int
	Newest   layers.Date // of the cores; zero: none
}

// List lists the tanks by id; retired ones only if asked.
func (b *Book) List(ctx context.Context, retired bool) ([]TankEntry, error) {
	const query = `
		SELECT s.tank, s.name, s.retired, count(c.date), ifnull(max(c.date), '')
		FROM setups s LEFT JOIN cores c ON c.tank = s.tank AND c.until IS NULL
		WHERE s.until IS NULL AND s.retired <= ?
		GROUP BY s.tank ORDER BY s.tank`
	scan := func(rows *sql.Rows) (e TankEntry, err error) {
		var newest string
		if err := rows.Scan(&e.ID, &e.Name, &e.Retired, &e.Cores, &newest); err != nil || newest == "" {
			return e, err
		}
		e.Newest, err = layers.ParseDate(newest)
		return e, err
	}
	return viewed(ctx, b, func(r *reader) ([]TankEntry, error) { return list(r, scan, query, layers.OneIf(retired)) })
}
