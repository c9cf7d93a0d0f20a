package logbook

import (
	"context"
	"fmt"
	"slices"
	"time"

	"panecore/layers"
)

// Imported counts what an import did.
type Imported struct {
	Tanks, Cores, Water, Events int // added
	Replaced                    int // entries of any kind that took the place of another value
	Equal                       int // entries of any kind that were there already
}

// Import merges tanks into the logbook as one change, all or nothing. An entry equal
// to the logbook's is passed over; one with the same key and another value replaces
// it if replace is true, and else refuses the import with a [ConflictError]. The
// entries are a tank's setup, by id; cores, by station and date; water tests, by
// date and time; and events, by all they say. What the logbook holds besides stays,
// and so does whether a tank is retired. A core may name a photo that the logbook does
// not hold.
func (b *Book) Import(ctx context.Context, at time.Time, tanks []layers.Tank, replace bool) (Imported, error) {
	var m merge
	err := b.change(ctx, at, func(c *change) error {
		m = merge{change: c, replace: replace}
		checked, err := check(c.today, tanks...)
		if err != nil {
			return err
		}
		for _, tank := range checked {
			if err := m.tank(tank); err != nil {
				return err
			}
		}
		if m.done != (Imported{Equal: m.done.Equal}) {
			c.what = "import of " + names(checked)
		}
		return m.refusal()
	})
	if err != nil {
		return Imported{}, err
	}
	return m.done, nil
}

func names(tanks []layers.Tank) string {
	if len(tanks) == 1 {
		return nameOf(tanks[0].ID)
	}
	return fmt.Sprint(len(tanks), " tanks")
}

// merge is an import under way.
type merge struct {
	*change
	replace   bool
	done      Imported
	conflicts layers.Faults
}

func (m *merge) tank(t layers.Tank) error {
	if _, err := m.exec("INSERT OR IGNORE INTO tanks VALUES (?)", t.ID); err != nil {
		return err
	}
	former, err := m.find(setups.table, t.ID, nil)
	if err != nil {
		return err
	}
	setup := setups.row(t, layers.OneIf(former != nil && former[0] == layers.OneIf(true)))
	for _, part := range []struct {
		table *table
		rows  [][]any
		added *int
	}{
		{setups.table, [][]any{setup}, &m.done.Tanks},
		{cores.table, cores.rows(&t), &m.done.Cores},
		{waterTests.table, waterTests.rows(&t), &m.done.Water},
		{events.table, events.rows(&t), &m.done.Events},
	} {
		if err := m.rows(part.table, t.ID, part.rows, part.added); err != nil {
			return err
		}
	}
	if err := m.endPhotos(t.ID); err != nil {
		return err
	}
	if err := m.checkStations(t.ID); err != nil {
		return err
	}
	return m.checkSetUp(t)
}

func (m *merge) rows(t *table, tank string, rows [][]any, added *int) error {
	standing, err := list(m.reader, raw(len(t.columns)), t.selectStanding(), tank)
	if err != nil {
		return err
	}
	known := make(map[string][]any, len(standing)+len(rows))
	for _, row := range standing {
		known[t.keyOf(row)] = row
	}
	given := make(map[string]bool, len(rows))
	for _, row := range rows {
		key := t.keyOf(row)
		former, found := known[key]
		switch {
		case found && slices.Equal(former, row):
			m.done.Equal++
		case given[key]:
			m.refuse(t, tank, row, "another value for it in the import itself", "one")
		case found && !m.replace:
			m.refuse(t, tank, row, "another value in the logbook ("+t.difference(former, row)+")", "an equal one, or to replace it")
		default:
			count := added
			if found {
				if err := m.end(t, tank, t.keyIn(row)); err != nil {
					return err
				}
				count = &m.done.Replaced
			}
			if err := m.insert(t, tank, row); err != nil {
				return err
			}
			*count++
		}
		known[key], given[key] = row, true
	}
	return nil
}

func (m *merge) refuse(t *table, tank string, row []any, found, want string) {
	m.conflicts = append(m.conflicts, layers.Fault{Where: nameOf(tank) + ", " + t.of(row), Found: found, Want: want})
}

// refusal is the error of an import with conflicts, the first of which it lists.
func (m *merge) refusal() error {
	if m.conflicts == nil {
		return nil
	}
	if untold := len(m.conflicts) - layers.MaxFaults; untold > 0 {
		m.conflicts = append(m.conflicts[:layers.MaxFaults], layers.Fault{Found: fmt.Sprint("further conflicts: ", untold)})
	}
	return &ConflictError{m.conflicts}
}
