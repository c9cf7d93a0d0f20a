package logbook

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strconv"
	"time"

	"panecore/layers"
)

// A CoreEntry is a core as it stands or stood in the logbook.
type CoreEntry struct {
	layers.Core
	Since Change // what brought it
	Until Change // what ended it; the zero Change: it stands
}

// Stands reports whether the entry is neither amended, removed nor taken back.
func (e CoreEntry) Stands() bool { return e.Until == Change{} }

// Cores lists a tank's cores by date and station; if asked also those removed,
// taken back and amended, each key's in the order in which they were written.
func (b *Book) Cores(ctx context.Context, tank string, former bool) ([]CoreEntry, error) {
	which := " AND until IS NULL"
	if former {
		which = ""
	}
	query := `
		SELECT brought.at, brought.what,
			ifnull(iif(since = until, brought.undone, ended.at), ''),
			ifnull(iif(since = until, 'taken back', ended.what), ''), ` + cores.list() + `
		FROM cores JOIN changes brought ON brought.id = since LEFT JOIN changes ended ON ended.id = until
		WHERE tank = ?` + which + ` ORDER BY ` + cores.order() + `, cores.rowid`
	return viewed(ctx, b, func(r *reader) ([]CoreEntry, error) {
		if _, _, err := r.setup(tank); err != nil {
			return nil, err
		}
		scan := cores.scanner(r.parts)
		entries, err := list(r, func(rows *sql.Rows) (e CoreEntry, err error) {
			e.Core, err = scan(rows, moment{&e.Since.At}, &e.Since.What, moment{&e.Until.At}, &e.Until.What)
			return e, err
		}, query, tank)
		return entries, within(nameOf(tank), err)
	})
}

// AddCore adds a core to a tank that has none of its station and date.
func (b *Book) AddCore(ctx context.Context, at time.Time, tank string, core layers.Core) error {
	return addRecord(ctx, b, at, cores, tank, core)
}

// AmendCore puts core in the place of the one of a station and date, which may
// differ from its own. Amending to the same value changes nothing. A photo that was
// kept of the core stays with it as long as core.Photo names it.
func (b *Book) AmendCore(ctx context.Context, at time.Time, tank, station string, date layers.Date, core layers.Core) error {
	return b.change(ctx, at, func(c *change) error {
		core, err := checked(c, cores, tank, core)
		if err != nil {
			return err
		}
		key := []any{date.String(), station}
		photo, err := c.find(photos, tank, key)
		if err != nil {
			return err
		}
		row := cores.row(core)
		if err := c.amend(cores.table, tank, key, row); err != nil {
			return err
		}
		moved := !slices.Equal(key, cores.keyIn(row))
		if moved && photo != nil && core.Photo != nil && core.Photo.SHA256 == photo[len(key)] { // it comes along
			if err := c.insert(photos, tank, slices.Concat(cores.keyIn(row), photo[len(key):])); err != nil {
				return err
			}
		}
		return c.endPhotos(tank)
	})
}

// RemoveCore removes the core of a station and date.
func (b *Book) RemoveCore(ctx context.Context, at time.Time, tank, station string, date layers.Date) error {
	return b.change(ctx, at, func(c *change) error {
		if err := c.remove(cores.table, tank, []any{date.String(), station}); err != nil {
			return err
		}
		return c.endPhotos(tank)
	})
}

// checkStations sees to it that a tank has no more stations than a document can give it.
func (c *change) checkStations(tank string) error {
	found, err := list(c.reader, text, "SELECT count(DISTINCT station) FROM cores WHERE tank = ? AND until IS NULL", tank)
	if err != nil {
		return err
	}
	if n, _ := strconv.Atoi(found[0]); n > layers.MaxStations {
		return layers.Faults{{Where: nameOf(tank) + ", cores", Found: found[0] + " stations", Want: fmt.Sprintf("at most %d stations a tank", layers.MaxStations)}}
	}
	return nil
}
