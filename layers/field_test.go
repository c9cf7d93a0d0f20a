package layers

import (
	"reflect"
	"testing"

	"panecore/layers/jsonio"
)

// Every field of every record has a row of its own in the table of its record, and every row
// reads and writes that field alone.
func TestTables_complete(t *testing.T) {
	checkTable(t, tankTable)
	checkTable(t, vesselTable)
	checkTable(t, nativeTable)
	checkTable(t, coreTable)
	checkTable(t, photoTable)
	checkTable(t, lightTable)
	checkTable(t, layerTable)
	checkTable(t, edgeTable)
	checkTable(t, waterTable)
	checkTable(t, eventTable)
}

func checkTable[R any](t *testing.T, table *table[R]) {
	record := reflect.TypeFor[R]()
	if record.NumField() != len(table.fields) {
		t.Errorf("%s has %d fields, its table %d rows", record.Name(), record.NumField(), len(table.fields))
	}
	told := map[string]bool{}
	for i := range table.fields {
		f := &table.fields[i]
		if told[f.Name] {
			t.Errorf("%s: a second row %s", record.Name(), f.Name)
		}
		told[f.Name] = true
	}
	for i := range record.NumField() {
		var full R
		fill(reflect.ValueOf(&full).Elem().Field(i))
		var rows []string
		for j := range table.fields {
			if f := &table.fields[j]; written(f, &full) != written(f, new(R)) {
				rows = append(rows, f.Name)
			}
		}
		if len(rows) != 1 {
			t.Errorf("%s.%s is written by the rows %v, want one", record.Name(), record.Field(i).Name, rows)
		}
	}
}

// written is what a document holds of a field.
func written[R any](f *Field[R], r *R) string {
	e := jsonio.NewRow()
	f.encode(e, r)
	return e.String()
}

// fill gives a value that differs from its zero in all its parts.
func fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem())
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		fill(v.Index(0))
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		v.SetMapIndex(reflect.Zero(v.Type().Key()), reflect.ValueOf(7.0))
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i))
		}
	case reflect.String:
		v.SetString("x")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Float64:
		v.SetFloat(7)
	case reflect.Uint8:
		v.SetUint(1)
	default:
		v.SetInt(int64(FirstDate))
	}
}
