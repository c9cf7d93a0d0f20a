package logbook

import (
	"fmt"
	"slices"
	"strings"
)

// A table holds rows of one kind, each of which stands for a time. Besides tank,
// since and until it has the columns named here. In a list of values they come in
// this order: the key first.
type table struct {
	name string
	key  []string // what sets a tank's rows apart, and the order in which they are read
	rest []string
	of   func(key []any) string // what a row of the key is called
}

// The tables.
var (
	setups = &table{"setups", nil,
		[]string{"retired", "name", "set_up", "shape", "length_mm", "width_mm", "diameter_mm", "water_depth_mm",
			"flow", "burrowers", "rooted_plants", "native", "limits"},
		func([]any) string { return "setup" }}
	cores = &table{"cores", []string{"date", "station"}, []string{"lit", "signs", "note", "sure", "layers", "photo"},
		func(key []any) string { return fmt.Sprintf("core %s %s", key[1], key[0]) }}
	photos = &table{"photos", cores.key, []string{"sha256", "kind", "bytes", "width", "height", "picks", "preview"},
		func(key []any) string { return "photo of " + cores.of(key) }}
	waterTests = &table{"water_tests", []string{"date", "time"},
		[]string{"ph", "temperature_c", "total_ammonia_mg_l", "oxygen_mg_l"},
		func(key []any) string { return strings.TrimSpace(fmt.Sprintf("water test %s %s", key[0], key[1])) }}
	events = &table{"events", []string{"date", "kind", "share", "depth_mm", "note"}, nil,
		func(key []any) string { return fmt.Sprintf("event %s %s", key[1], key[0]) }}
	prototypes = &table{"prototypes", []string{"name"}, []string{"band", "hex", "spread"},
		func(key []any) string { return fmt.Sprintf("prototype %s", key[0]) }}

	tables = []*table{setups, cores, photos, waterTests, events, prototypes}
)

// called is what the row of a tank and a key is called; a nil tank stands for every tank.
func (t *table) called(tank any, key []any) string {
	if tank == nil {
		return t.of(key) + " of every tank"
	}
	return fmt.Sprintf("%s of tank %q", t.of(key), tank)
}

func (t *table) names() []string { return append(slices.Clone(t.key), t.rest...) }

func (t *table) columns() string {
	return strings.Join(t.names(), ", ")
}

func (t *table) width() int { return len(t.key) + len(t.rest) }

// keyIn is the key of a row.
func (t *table) keyIn(row []any) []any { return row[:len(t.key)] }

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
	return "SELECT " + t.columns() + " FROM " + t.name + " WHERE tank IS ? AND until IS NULL ORDER BY " + t.order()
}

func (t *table) order() string {
	return strings.Join(append([]string{"tank"}, t.key...), ", ")
}

// selectOne reads the standing row of a tank and a key.
func (t *table) selectOne() string {
	return "SELECT " + t.columns() + " FROM " + t.name + " WHERE " + t.isStanding()
}

// endOne ends the standing row of a tank and a key.
func (t *table) endOne() string {
	return "UPDATE " + t.name + " SET until = ? WHERE " + t.isStanding()
}

func (t *table) isStanding() string {
	condition := "tank IS ? AND until IS NULL"
	for _, column := range t.key {
		condition += " AND " + column + " IS ?"
	}
	return condition
}

func (t *table) insertOne() string {
	return "INSERT INTO " + t.name + " (" + t.columns() + ", tank, since) VALUES (" +
		strings.Repeat("?, ", t.width()) + "?, ?)"
}
