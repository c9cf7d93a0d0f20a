package logbook

import (
	"database/sql"
	"fmt"
	"strings"

	"panecore/layers"
)

// A table holds rows of one kind, each of which stands for a time. Besides tank,
// since and until it has the columns named here. In a list of values they come in
// this order: the key first.
type table struct {
	name    string
	keys    int // how many columns set a tank's rows apart; they are also the order in which rows are read
	columns []column
	of      func(key []any) string // what a row of the key is called
}

// A column of a table. One that came after the schema of version 4 is defined here.
type column struct {
	name, definition string
	since            int // version
}

// A recordTable is a table of records of package layers: a column for each that their fields have,
// behind those of its own.
type recordTable[R any] struct {
	*table
	fields []layers.Column[R]
	in     func(*layers.Tank) *[]R // where a tank holds them; nil: it is the record itself
}

// The tables.
var (
	setups = recordsOf("setups", 0, layers.TankFields(), nil, func([]any) string { return "setup" }, "retired")
	cores  = recordsOf("cores", 2, layers.CoreFields(), func(t *layers.Tank) *[]layers.Core { return &t.Cores },
		func(key []any) string { return fmt.Sprintf("core %s %s", key[1], key[0]) })
	photos = &table{"photos", 2, columnsOf("date", "station", "sha256", "kind", "bytes", "width", "height", "picks", "preview"),
		func(key []any) string { return "photo of " + cores.of(key) }}
	waterTests = recordsOf("water_tests", 2, layers.WaterFields(), func(t *layers.Tank) *[]layers.WaterTest { return &t.Water },
		func(key []any) string { return strings.TrimSpace(fmt.Sprintf("water test %s %s", key[0], key[1])) })
	events = recordsOf("events", len(layers.EventFields()), layers.EventFields(), func(t *layers.Tank) *[]layers.Event { return &t.Events },
		func(key []any) string { return fmt.Sprintf("event %s %s", key[1], key[0]) })
	prototypes = &table{"prototypes", 1, columnsOf("name", "band", "hex", "spread"),
		func(key []any) string { return fmt.Sprintf("prototype %s", key[0]) }}

	tables = []*table{setups.table, cores.table, photos, waterTests.table, events.table, prototypes}
)

func recordsOf[R any](name string, keys int, fields []layers.Field[R], in func(*layers.Tank) *[]R, of func(key []any) string, own ...string) *recordTable[R] {
	t := &recordTable[R]{table: &table{name, keys, columnsOf(own...), of}, in: in}
	for _, f := range fields {
		for _, c := range f.Columns() {
			t.columns = append(t.columns, column{c.Name, c.Type, c.Since})
			t.fields = append(t.fields, c)
		}
	}
	return t
}

func columnsOf(names ...string) []column {
	columns := make([]column, len(names))
	for i, name := range names {
		columns[i].name = name
	}
	return columns
}

// row is a record as a row, behind the columns that are the table's own: int64, float64, string
// or nil, as SQLite hands them back, so that two rows compare with ==.
func (t *recordTable[R]) row(record R, own ...any) []any {
	row := append(make([]any, 0, len(t.columns)), own...)
	for _, f := range t.fields {
		row = append(row, f.Value(&record))
	}
	return row
}

func (t *recordTable[R]) rows(tank *layers.Tank) (rows [][]any) {
	for _, record := range *t.in(tank) {
		rows = append(rows, t.row(record))
	}
	return rows
}

// scanner scans rows of records, and what stands before them into own. Its errors name the
// entry's place.
func (t *recordTable[R]) scanner(parts layers.PartDecoder) func(row *sql.Rows, own ...any) (R, error) {
	cells, places := make([]any, len(t.fields)), make([]any, len(t.fields))
	for i := range cells {
		places[i] = &cells[i]
	}
	return func(row *sql.Rows, own ...any) (record R, err error) {
		if err := row.Scan(append(own, places...)...); err != nil {
			return record, err
		}
		for i, f := range t.fields {
			if err := f.Scan(parts, &record, cells[i]); err != nil {
				place := f.Name
				if i >= t.keys && t.keys > 0 {
					place = t.of(cells[:t.keys]) + ", " + place
				}
				return record, within(place, err)
			}
		}
		return record, nil
	}
}

// called is what the row of a tank and a key is called; a nil tank stands for every tank.
func (t *table) called(tank any, key []any) string {
	if tank == nil {
		return t.of(key) + " of every tank"
	}
	return fmt.Sprintf("%s of tank %q", t.of(key), tank)
}

func (t *table) names() []string {
	names := make([]string, len(t.columns))
	for i, c := range t.columns {
		names[i] = c.name
	}
	return names
}

func (t *table) list() string { return strings.Join(t.names(), ", ") }

func (t *table) keyIn(row []any) []any { return row[:t.keys] }

// keyOf is keyIn as one text, its own for every key: only the last column of a key
// may hold a blank.
func (t *table) keyOf(row []any) string { return fmt.Sprint(t.keyIn(row)) }

// difference names the columns in which two rows differ.
func (t *table) difference(a, b []any) string {
	var names []string
	for i, name := range t.names() {
		if a[i] != b[i] {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// selectStanding reads a tank's standing rows in order. A tank is compared with IS
// everywhere, because that of a prototype may be NULL.
func (t *table) selectStanding() string {
	return "SELECT " + t.list() + " FROM " + t.name + " WHERE tank IS ? AND until IS NULL ORDER BY " + t.order()
}

func (t *table) order() string {
	return strings.Join(append([]string{"tank"}, t.names()[:t.keys]...), ", ")
}

func (t *table) selectOne() string {
	return "SELECT " + t.list() + " FROM " + t.name + " WHERE " + t.isStanding()
}

func (t *table) endOne() string {
	return "UPDATE " + t.name + " SET until = ? WHERE " + t.isStanding()
}

func (t *table) isStanding() string {
	condition := "tank IS ? AND until IS NULL"
	for _, key := range t.columns[:t.keys] {
		condition += " AND " + key.name + " IS ?"
	}
	return condition
}

func (t *table) insertOne() string {
	return "INSERT INTO " + t.name + " (" + t.list() + ", tank, since) VALUES (" +
		strings.Repeat("?, ", len(t.columns)) + "?, ?)"
}
