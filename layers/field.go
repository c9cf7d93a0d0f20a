package layers

import (
	"fmt"
	"strings"

	"panecore/layers/jsonio"
)

// A Field is one fact of a record R. All that reads, keeps, shows or asks for records goes
// through the fields of their tables, each of which stands beside its struct.
type Field[R any] struct {
	Name string // in the document and the store, as in oxygen_mg_l
	Words
	Needed  bool     // it must stand in a document
	Choices []string // the words that it may hold; nil: any
	Input   Input

	measure measure // of a number
	decode  func(*Decoder, *R)
	encode  func(*jsonio.Writer, *R)
	cell    func(*R) any           // see [Column]
	parse   func(*R, string) error // nil: it is not typed in one piece
	clear   func(*R)
	columns []Column[R]
}

// Input is how a field is asked for.
type Input uint8

// The inputs.
const (
	InputText Input = iota
	InputNote
	InputNumber
	InputDate
	InputClock
	InputChoice // of Choices
	InputAnswer // yes or no
)

// Words are what a keeper sees of a field. A field without any is not asked for or shown by
// itself.
type Words struct {
	Label    string // heads it in a form, as in "Total ammonia"
	Head     string // heads its column in a table
	Legend   string // what its column holds, where the head does not say
	Before   string // opens it in a sentence, where its value does not say enough
	Flag     string // names it on the command line
	Usage    string // helps with the flag, its value in back quotes
	Decimals int    // are shown at most
}

// Parse reads what was typed into the field of r: a number with its unit where it may have more
// than one. An empty text takes a field that may be left out back to "not given".
func (f *Field[R]) Parse(r *R, text string) error {
	if text == "" && !f.Needed {
		f.clear(r)
		return nil
	}
	return f.parse(r, text)
}

// ParseIn is Parse for a form that names the unit, which a bare number stands in.
func (f *Field[R]) ParseIn(u Units, r *R, text string) (err error) {
	if f.Input == InputNumber && text != "" {
		text, err = f.measure.inUnit(text, u)
	}
	if err != nil {
		return err
	}
	return f.Parse(r, text)
}

// Key names the field in a form.
func (f *Field[R]) Key() string {
	if f.Flag == "" {
		return f.Name
	}
	return strings.ReplaceAll(f.Flag, "-", "_")
}

// Typed reports whether the field is typed in one piece, so that Parse reads it.
func (f *Field[R]) Typed() bool { return f.parse != nil }

// Text is what the field of r holds in words and units; empty: it is not given.
func (f *Field[R]) Text(r *R, u Units) string {
	if value, given := f.Number(r); given {
		return f.measure.text(value, f.Decimals, u)
	}
	return f.Plain(r)
}

// Said is Text for a sentence: as it was entered, with its unit and what opens it.
func (f *Field[R]) Said(r *R, u Units) string {
	if value, given := f.Number(r); given {
		return strings.TrimSpace(f.Before + " " + f.measure.said(value, u))
	}
	return f.Plain(r)
}

// Number is the number that the field of r holds, in the units of the document.
func (f *Field[R]) Number(r *R) (value float64, given bool) {
	value, given = f.cell(r).(float64)
	return value, given
}

// Unit is what a number is typed with, where lengths are in u; empty: nothing.
func (f *Field[R]) Unit(u Units) string { return f.measure.unitIn(u) }

// Plain is what the field of r holds, in the units of the document; empty: it is not given.
func (f *Field[R]) Plain(r *R) string {
	switch value := f.cell(r).(type) {
	case string:
		return value
	case float64:
		return format(value)
	case int64:
		yes := value != 0
		return YesNo(&yes)
	}
	return ""
}

// Given reports whether the field of r holds anything.
func (f *Field[R]) Given(r *R) bool { return f.Plain(r) != "" }

// Columns are where a store keeps the field: one column, those of the record that it holds, or
// none where its entries are kept in a table of their own.
func (f *Field[R]) Columns() []Column[R] { return f.columns }

// A Column is where a store keeps a field, or a part of it.
type Column[R any] struct {
	Name  string
	Type  string // its definition in SQLite, such that it can be added to a table
	Since int    // the version of the logbook that brought it; 0: the first
	// Value is what the column holds: int64, float64 or string; nil: not given.
	Value func(*R) any
	// Scan puts into r what the column holds. An error is [Faults], their places within it.
	Scan func(p PartDecoder, r *R, cell any) error
}

// field is a field of a kind, at a place in its record.
func field[R, T any](name string, k kind[T], at func(*R) *T) Field[R] {
	decode, encode := k.decode, k.encode // at hand: a large document has a million
	f := Field[R]{
		Name:    name,
		Choices: k.choices,
		Input:   k.input,
		measure: k.measure,
		clear:   func(r *R) { *at(r) = *new(T) },
		decode:  func(d *Decoder, r *R) { *at(r) = decode(d) },
		encode:  func(e *jsonio.Writer, r *R) { encode(e, name, *at(r)) },
		cell:    func(r *R) any { return k.cell(*at(r)) },
	}
	if k.parse != nil {
		f.parse = func(r *R, text string) error {
			value, err := k.parse(text)
			if err == nil {
				*at(r) = value
			}
			return err
		}
	}
	if k.column != "" {
		f.columns = []Column[R]{{
			Name:  name,
			Type:  fmt.Sprintf(k.column, name),
			Value: f.cell,
			Scan: func(p PartDecoder, r *R, cell any) (err error) {
				*at(r), err = k.scan(p, cell)
				return err
			},
		}}
	}
	return f
}

// needed has a field stand in every document.
func (f Field[R]) needed() Field[R] {
	f.Needed = true
	return f
}

// since has a field come with a version of the logbook.
func (f Field[R]) since(version int) Field[R] {
	for i := range f.columns {
		f.columns[i].Since = version
	}
	return f
}

// apart has a field kept outside its record's table: as the key that the record is found by, or
// in a table of its own.
func (f Field[R]) apart() Field[R] {
	f.columns = nil
	return f
}

func (f Field[R]) seen(w Words) Field[R] {
	f.Words = w
	return f
}

// table is the table of a record's fields, in the order in which a document writes them.
type table[R any] struct {
	fields []Field[R]
	names  jsonio.Fields        // the needed ones first
	decode []func(*Decoder, *R) // by names
	encode []func(*jsonio.Writer, *R)
	check  func(d *Decoder, o jsonio.Object, r *R)
}

// tableOf is the table of fields. check, which may be nil, holds what was read of the whole
// record to the rules that join its fields.
func tableOf[R any](check func(d *Decoder, o jsonio.Object, r *R), list ...Field[R]) *table[R] {
	t := &table[R]{fields: list, check: check}
	for _, f := range list {
		t.encode = append(t.encode, f.encode)
	}
	for _, needed := range []bool{true, false} {
		for _, f := range list {
			if f.Needed == needed {
				t.names.Names = append(t.names.Names, f.Name)
				t.decode = append(t.decode, f.decode)
			}
		}
		if needed {
			t.names.Required = len(t.decode)
		}
	}
	return t
}

func (t *table[R]) read(d *Decoder, r *R) {
	o := d.in.Object(&t.names)
	for d.in.Next(&o) {
		t.decode[o.At](d, r)
	}
	if t.check != nil {
		t.check(d, o, r)
	}
}

// row writes r on one line.
func (t *table[R]) row(e *jsonio.Writer, r *R) {
	outside := e.Row(true)
	t.block(e, r)
	e.Row(outside)
}

// marshal is r as a document holds it, on one line.
func (t *table[R]) marshal(r *R) ([]byte, error) {
	w := jsonio.NewRow()
	t.row(w, r)
	return []byte(w.String()), w.Err()
}

// block writes r on a line a field, unless it stands in a row itself.
func (t *table[R]) block(e *jsonio.Writer, r *R) {
	e.Begin('{')
	for _, encode := range t.encode {
		encode(e, r)
	}
	e.End('}')
}

// unfolded has the record that a field holds kept in columns of the outer record's table.
func unfolded[R, Inner any](f Field[R], t *table[Inner], at func(*R) **Inner) Field[R] {
	f.columns = nil
	for _, inner := range t.fields {
		for _, c := range inner.columns {
			f.columns = append(f.columns, Column[R]{
				Name: c.Name, Type: c.Type, Since: c.Since,
				Value: func(r *R) any {
					if record := *at(r); record != nil {
						return c.Value(record)
					}
					return c.Value(new(Inner))
				},
				Scan: func(p PartDecoder, r *R, cell any) error {
					if cell == nil || cell == "" {
						return nil
					}
					if *at(r) == nil {
						*at(r) = new(Inner)
					}
					return c.Scan(p, *at(r), cell)
				},
			})
		}
	}
	return f
}
