package layers

import (
	"panecore/layers/jsonio"
	"panecore/palette"
)

// A kind is how a value of a type is read and written everywhere. What a kind lacks, no field of
// it can do.
type kind[T any] struct {
	decode func(*Decoder) T                             // what a fault leaves is not given
	encode func(e *jsonio.Writer, name string, value T) // nothing, where it is not given

	column string // see [Column], "%[1]s" its name
	cell   func(T) any
	scan   func(p PartDecoder, cell any) (T, error)

	parse   func(text string) (T, error)
	input   Input
	choices []string
	measure measure
}

// What a column is defined as in SQLite. A text that is not given is empty; a number or a flag
// that is not given is NULL.
const (
	textColumn   = "%[1]s TEXT NOT NULL DEFAULT ''"
	numberColumn = "%[1]s REAL"
	flagColumn   = "%[1]s INTEGER CHECK (%[1]s IN (0, 1))"
	truthColumn  = "%[1]s INTEGER NOT NULL DEFAULT 0 CHECK (%[1]s IN (0, 1))"
	listColumn   = "%[1]s TEXT NOT NULL DEFAULT '[]' CHECK (json_type(%[1]s) = 'array')"
	limitsColumn = "%[1]s TEXT NOT NULL DEFAULT '{}' CHECK (json_type(%[1]s) = 'object')"
	objectColumn = "%[1]s TEXT CHECK (json_type(%[1]s) = 'object')"
)

// optional is a number within m that may be left out, so that 0 is not "not given".
func optional(m measure) kind[*float64] {
	return numeric(m, func(value float64) *float64 { return &value }, func(p *float64) (float64, bool) {
		if p == nil {
			return 0, false
		}
		return *p, true
	})
}

// always is a number within m that is always given.
func always(m measure) kind[float64] {
	k := numeric(m, itself[float64], func(value float64) (float64, bool) { return value, true })
	k.encode = (*jsonio.Writer).Number // without asking whether it is given: a large document has a million
	return k
}

// size is a number within m of which 0 is "not given".
func size(m measure) kind[float64] {
	return numeric(m, itself[float64], func(value float64) (float64, bool) { return value, value != 0 })
}

func itself[T any](value T) T { return value }

// numeric is a number within m that is kept as a T.
func numeric[T any](m measure, from func(float64) T, number func(T) (value float64, given bool)) kind[T] {
	var within jsonio.Range = m // made here, since each making costs memory
	return kind[T]{
		decode: func(d *Decoder) T { return from(d.in.Number(within)) },
		encode: func(e *jsonio.Writer, name string, kept T) {
			if value, given := number(kept); given {
				e.Number(name, value)
			}
		},
		column: numberColumn,
		cell: func(kept T) any {
			if value, given := number(kept); given {
				return value
			}
			return nil
		},
		scan: func(_ PartDecoder, cell any) (kept T, _ error) {
			if value, ok := cell.(float64); ok {
				kept = from(value)
			}
			return kept, nil
		},
		parse: func(text string) (T, error) {
			value, err := m.parse(text)
			return from(value), err
		},
		measure: m,
		input:   InputNumber,
	}
}

// textual is a kind that a document and a store hold as text; parse reads what was typed, read
// what a store holds.
func textual[T any](decode func(*Decoder) T, format func(T) string, read, parse func(string) (T, error)) kind[T] {
	return kind[T]{
		decode: decode,
		encode: func(e *jsonio.Writer, name string, value T) { e.Text(name, format(value)) },
		column: textColumn,
		cell:   func(value T) any { return format(value) },
		scan: func(_ PartDecoder, cell any) (value T, err error) {
			if text, _ := cell.(string); text != "" {
				value, err = read(text)
			}
			return value, err
		},
		parse: parse,
	}
}

// wording is a text that stands as it is.
func wording[T ~string](decode func(*Decoder) T, parse func(string) (T, error)) kind[T] {
	return textual(decode, func(value T) string { return string(value) }, asTyped[T], parse)
}

func labelKind() kind[string] {
	return wording(func(d *Decoder) string { return string(d.label()) }, ParseName)
}

func noteKind() kind[string] {
	return wording((*Decoder).note, ParseNote).asked(InputNote)
}

// asTyped takes a text as it stands. What is wrong with it is told when the record is held to the
// rules of a document, with all else that is.
func asTyped[T ~string](text string) (T, error) { return T(text), nil }

func (k kind[T]) asked(input Input, choices ...string) kind[T] {
	k.input, k.choices = input, choices
	return k
}

func oneWord[Word ~string](words []Word) kind[Word] {
	decode := func(d *Decoder) Word { return jsonio.Choose(d.in, words) }
	return wording(decode, asTyped[Word]).asked(InputChoice, Texts(words)...)
}

// dateKind is a date that may be left out.
func dateKind() kind[Date] {
	read := func(text string) (Date, error) {
		date, want := parseDate(text)
		if want != "" {
			return 0, Faults{{Where: jsonio.WholeDocument, Found: jsonio.Quote(text), Want: "a day of the calendar as YYYY-MM-DD, " + FirstDate.String() + " or later"}}
		}
		return date, nil
	}
	return textual((*Decoder).date, Date.String, read, ParseDate).asked(InputDate)
}

func colorKind() kind[palette.Color] {
	return textual((*Decoder).color, palette.Color.String, palette.ParseColor, palette.ParseColor)
}

// bandKind is the keeper's own label of a layer.
func bandKind() kind[palette.Band] {
	decode := func(d *Decoder) palette.Band {
		band, _ := palette.ParseBand(jsonio.Choose(d.in, d.bands)) // chosen from its own list
		return band
	}
	return textual(decode, palette.Band.String, palette.ParseBand, parseBand).asked(InputChoice, bandNames()...)
}

// flagKind is true or false, or nil where it is not given.
func flagKind() kind[*bool] {
	return kind[*bool]{
		decode: func(d *Decoder) *bool { return d.in.Flag() },
		encode: func(e *jsonio.Writer, name string, value *bool) {
			if value != nil {
				e.Truth(name, *value)
			}
		},
		column: flagColumn,
		cell: func(value *bool) any {
			if value == nil {
				return nil
			}
			return OneIf(*value)
		},
		scan: func(_ PartDecoder, cell any) (value *bool, _ error) {
			if number, ok := cell.(int64); ok {
				value = new(bool)
				*value = number != 0
			}
			return value, nil
		},
		parse: ParseYesNo,
	}.asked(InputAnswer, "yes", "no")
}

// OneIf is a flag as a store keeps it.
func OneIf(value bool) int64 {
	if value {
		return 1
	}
	return 0
}

// truthKind is true or false. A document leaves out a false, or where opposite is set writes a
// true as false and leaves out the rest.
func truthKind(opposite bool) kind[bool] {
	return kind[bool]{
		decode: func(d *Decoder) bool {
			value := d.in.Flag()
			return value != nil && *value != opposite
		},
		encode: func(e *jsonio.Writer, name string, value bool) {
			if value {
				e.Truth(name, !opposite)
			}
		},
		column: truthColumn,
		cell:   func(value bool) any { return OneIf(value) },
		scan:   func(_ PartDecoder, cell any) (bool, error) { return cell == OneIf(true), nil },
	}
}

// structured is a list or an object. A store keeps it as a document does, but on one line; NULL
// is the zero value.
func structured[T any](column string, decode func(*Decoder) T, given func(T) bool, write func(*jsonio.Writer, T)) kind[T] {
	return kind[T]{
		decode: decode,
		encode: func(e *jsonio.Writer, name string, value T) {
			if given(value) {
				e.Key(name)
				write(e, value)
			}
		},
		column: column,
		cell: func(value T) any {
			if column == objectColumn && !given(value) {
				return nil
			}
			e := jsonio.NewRow()
			write(e, value) // its error is that of the whole document, which is written before
			return e.String()
		},
		scan: func(p PartDecoder, cell any) (value T, err error) {
			if text, _ := cell.(string); text != "" || column == listColumn { // an empty list is written too
				value, err = readPart(p, text, decode)
			}
			return value, err
		},
	}
}

// listOf is a list of records, each written by write.
func listOf[Entry any](decode func(*Decoder) []Entry, write func(*jsonio.Writer, *Entry)) kind[[]Entry] {
	given := func(list []Entry) bool { return len(list) > 0 }
	return structured(listColumn, decode, given, func(e *jsonio.Writer, list []Entry) {
		e.Begin('[')
		for i := range list {
			e.Next()
			write(e, &list[i])
		}
		e.End(']')
	})
}

// rowsOf is a list of records, each on one line.
func rowsOf[Entry any](t *table[Entry]) kind[[]Entry] {
	decode := func(d *Decoder) (list []Entry) {
		if d.in.List() {
			for d.in.More() {
				list = append(list, *new(Entry))
				t.read(d, &list[len(list)-1])
			}
		}
		return list
	}
	return listOf(decode, t.row)
}

// recordOf is a record within another, written on one line.
func recordOf[Inner any](t *table[Inner]) kind[Inner] {
	return structured(objectColumn,
		func(d *Decoder) (inner Inner) {
			t.read(d, &inner)
			return inner
		},
		func(Inner) bool { return true },
		func(e *jsonio.Writer, inner Inner) { t.row(e, &inner) })
}

// maybe is a record within another that may be left out.
func maybe[Inner any](t *table[Inner]) kind[*Inner] {
	return structured(objectColumn,
		func(d *Decoder) *Inner {
			inner := new(Inner)
			t.read(d, inner)
			return inner
		},
		func(inner *Inner) bool { return inner != nil },
		t.row)
}
