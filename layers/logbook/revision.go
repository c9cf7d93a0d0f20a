package logbook

import (
	"context"
	"database/sql"
)

// Revisions are the tanks that are not retired, by id, each with the id of the change that made it
// what it is: the latest that holds and brought or ended a record of it, or a prototype that counts
// for it. While a tank's revision is the same so is all that [Book.Tank] and [Book.Prototypes]
// read of it, since the last change is the first to be taken back, and no id is given twice.
func (b *Book) Revisions(ctx context.Context) (map[string]int64, error) {
	return viewed(ctx, b, (*reader).revisions)
}

func (r *reader) revisions() (map[string]int64, error) {
	ids, err := list(r, text, "SELECT tank FROM setups WHERE until IS NULL AND retired = 0")
	if err != nil {
		return nil, err
	}
	found := make(map[string]int64, len(ids))
	for _, id := range ids {
		found[id] = 0
	}
	for _, t := range tables {
		// What a change brought that was taken back ended with that same change.
		err := r.each(func(rows *sql.Rows) error {
			var tank sql.NullString
			var latest int64
			ids := ids // NULL: of every tank
			if err := rows.Scan(&tank, &latest); err != nil {
				return err
			}
			if tank.Valid {
				ids = []string{tank.String}
			}
			for _, id := range ids {
				if former, ok := found[id]; ok { // else it is retired
					found[id] = max(former, latest)
				}
			}
			return nil
		}, "SELECT tank, max(max(since, ifnull(until, 0))) FROM "+t.name+" WHERE until IS NULL OR until > since GROUP BY tank")
		if err != nil {
			return nil, err
		}
	}
	return found, nil
}
