package layers

import (
	"slices"

	"panecore/palette"
)

// A kind is how a value of a type is read and written everywhere. What a kind lacks, no field of
// it can do.
type kind[T any] struct {
	decode func(*Decoder) T                       // what a fault leaves is not given
	encode func(e *encoder, name string, value T) // nothing, where it is not given

	column string      // see [Column], "%[1]s" its name
	cell   func(T) any // see [Column]
	scan   func(p PartDecoder, cell any) (T, error)

	parse   func(text string) (T, error)
	text    func(value T, w Words, u Units) string
	number  func(T) *float64
	unit    func(Units) string
	choices []string
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
	return kind[*float64]{
		decode: func(d *Decoder) *float64 {
			value := d.number(m)
			return &value
		},
		encode: func(e *encoder, name string, value *float64) {
			if value != nil {
				e.number(name, *value)
			}
		},
		column: numberColumn,
		cell: func(value *float64) any {
			if value == nil {
				return nil
			}
			return *value
		},
		scan: func(_ PartDecoder, cell any) (*float64, error) {
			if value, ok := cell.(float64); ok {
				return &value, nil
			}
			return nil, nil
		},
		parse: func(text string) (*float64, error) {
			value, err := m.parse(text)
			return &value, err
		},
		text: func(value *float64, w Words, u Units) string {
			if value == nil {
				return ""
			}
			return m.text(*value, w.Decimals, u)
		},
		number: func(value *float64) *float64 { return value },
		unit:   m.unitIn,
	}
}

// always is a number within m that is always given.
func always(m measure) kind[float64] {
	k := optional(m)
	return kind[float64]{
		decode: func(d *Decoder) float64 { return d.number(m) },
		encode: (*encoder).number,
		column: numberColumn,
		cell:   func(value float64) any { return value },
		scan: func(_ PartDecoder, cell any) (float64, error) {
			value, _ := cell.(float64)
			return value, nil
		},
		parse:  m.parse,
		text:   func(value float64, w Words, u Units) string { return k.text(&value, w, u) },
		number: func(value float64) *float64 { return &value },
		unit:   k.unit,
	}
}

// size is a number within m of which 0 is "not given".
func size(m measure) kind[float64] {
	k := always(m)
	k.encode = func(e *encoder, name string, value float64) {
		if value != 0 {
			e.number(name, value)
		}
	}
	k.cell = func(value float64) any {
		if value == 0 {
			return nil
		}
		return value
	}
	k.text = func(value float64, w Words, u Units) string {
		if value == 0 {
			return ""
		}
		return m.text(value, w.Decimals, u)
	}
	return k
}

// textual is a kind that a store keeps as text.
func textual[T ~string](decode func(*Decoder) T, parse func(string) (T, error)) kind[T] {
	return kind[T]{
		decode: decode,
		encode: func(e *encoder, name string, value T) { e.text(name, string(value)) },
		column: textColumn,
		cell:   func(value T) any { return string(value) },
		scan: func(_ PartDecoder, cell any) (T, error) {
			text, _ := cell.(string)
			return T(text), nil
		},
		parse: parse,
		text:  func(value T, _ Words, _ Units) string { return string(value) },
		unit:  noUnit,
	}
}

func noUnit(Units) string { return "" }

func labelKind() kind[string] {
	return textual(func(d *Decoder) string { return string(d.label()) }, ParseName)
}

func noteKind() kind[string] { return textual((*Decoder).note, ParseNote) }

func clockKind() kind[string] { return textual((*Decoder).clock, parseClock) }

// oneWord is one of a list of words.
func oneWord[Word ~string](words []Word) kind[Word] {
	k := textual(
		func(d *Decoder) Word { return choose(d, words) },
		func(text string) (Word, error) {
			if slices.Contains(words, Word(text)) {
				return Word(text), nil
			}
			return "", Fault{Found: quote(text), Want: wanted(text, texts(words))}
		})
	k.choices = texts(words)
	return k
}

func texts[Word ~string](words []Word) []string {
	list := make([]string, len(words))
	for i, word := range words {
		list[i] = string(word)
	}
	return list
}

// dateKind is a date that may be left out.
func dateKind() kind[Date] {
	return kind[Date]{
		decode: (*Decoder).date,
		encode: func(e *encoder, name string, value Date) { e.text(name, value.String()) },
		column: textColumn,
		cell:   func(value Date) any { return value.String() },
		scan: func(_ PartDecoder, cell any) (Date, error) {
			text, _ := cell.(string)
			if text == "" {
				return 0, nil
			}
			date, want := parseDate(text)
			if want != "" {
				return 0, Faults{{wholeDocument, quote(text), "a day of the calendar as YYYY-MM-DD, " + FirstDate.String() + " or later"}}
			}
			return date, nil
		},
		parse: ParseDate,
		text:  func(value Date, _ Words, _ Units) string { return value.String() },
		unit:  noUnit,
	}
}

// flagKind is true or false, or nil where it is not given.
func flagKind() kind[*bool] {
	return kind[*bool]{
		decode: (*Decoder).flag,
		encode: func(e *encoder, name string, value *bool) {
			if value != nil {
				e.truth(name, *value)
			}
		},
		column: flagColumn,
		cell: func(value *bool) any {
			if value == nil {
				return nil
			}
			return oneIf(*value)
		},
		scan: func(_ PartDecoder, cell any) (*bool, error) {
			number, ok := cell.(int64)
			if !ok {
				return nil, nil
			}
			value := number != 0
			return &value, nil
		},
		parse: func(text string) (*bool, error) {
			yes := text == "yes"
			if !yes && text != "no" {
				return nil, Fault{Found: quote(text), Want: "yes or no"}
			}
			return &yes, nil
		},
		text: func(value *bool, _ Words, _ Units) string {
			switch {
			case value == nil:
				return ""
			case *value:
				return "yes"
			}
			return "no"
		},
		unit:    noUnit,
		choices: []string{"yes", "no"},
	}
}

// oneIf is a flag as a store keeps it.
func oneIf(value bool) int64 {
	if value {
		return 1
	}
	return 0
}

// truthKind is true or false. Left out in a document it is false, or where unless is set true,
// which then stands for false.
func truthKind(unless bool) kind[bool] {
	return kind[bool]{
		decode: func(d *Decoder) bool { return d.truth(unless) != unless },
		encode: func(e *encoder, name string, value bool) {
			if value {
				e.truth(name, !unless)
			}
		},
		column: truthColumn,
		cell:   func(value bool) any { return oneIf(value) },
		scan: func(_ PartDecoder, cell any) (bool, error) {
			number, _ := cell.(int64)
			return number != 0, nil
		},
	}
}

func colorKind() kind[palette.Color] {
	return kind[palette.Color]{
		decode: (*Decoder).color,
		encode: func(e *encoder, name string, value palette.Color) { e.text(name, value.String()) },
		cell:   func(value palette.Color) any { return value.String() },
		parse:  palette.ParseColor,
	}
}

// bandKind is the keeper's own label of a layer.
func bandKind() kind[palette.Band] {
	return kind[palette.Band]{
		decode: func(d *Decoder) palette.Band {
			band, _ := palette.ParseBand(choose(d, d.bands)) // chosen from its own list
			return band
		},
		encode:  func(e *encoder, name string, value palette.Band) { e.text(name, value.String()) },
		cell:    func(value palette.Band) any { return value.String() },
		parse:   parseBand,
		choices: bandNames(),
	}
}

// listOf is a list of records, each written by write.
func listOf[Entry any](t *table[Entry], write func(*encoder, *Entry)) kind[[]Entry] {
	decode := func(d *Decoder) (list []Entry) {
		if d.list() {
			for d.more() {
				list = append(list, *new(Entry))
				t.read(d, &list[len(list)-1])
			}
		}
		return list
	}
	return kind[[]Entry]{
		decode: decode,
		encode: func(e *encoder, name string, list []Entry) { writeList(e, name, list, write) },
		column: listColumn,
		cell: func(list []Entry) any {
			var e encoder
			e.row('[', func() {
				for i := range list {
					e.next()
					write(&e, &list[i])
				}
			}, ']')
			return e.part()
		},
		scan: func(p PartDecoder, cell any) ([]Entry, error) { return scanPart(p, cell, decode) },
	}
}

// recordOf is a record within another, written on one line.
func recordOf[Inner any](t *table[Inner]) kind[Inner] {
	return kind[Inner]{
		decode: func(d *Decoder) (inner Inner) {
			t.read(d, &inner)
			return inner
		},
		encode: func(e *encoder, name string, inner Inner) {
			e.key(name)
			t.row(e, &inner)
		},
	}
}

// maybe is a record within another that may be left out.
func maybe[Inner any](t *table[Inner]) kind[*Inner] {
	decode := func(d *Decoder) *Inner {
		inner := new(Inner)
		t.read(d, inner)
		return inner
	}
	return kind[*Inner]{
		decode: decode,
		encode: func(e *encoder, name string, inner *Inner) {
			if inner != nil {
				e.key(name)
				t.row(e, inner)
			}
		},
		column: objectColumn,
		cell: func(inner *Inner) any {
			if inner == nil {
				return nil
			}
			var e encoder
			t.row(&e, inner)
			return e.part()
		},
		scan: func(p PartDecoder, cell any) (*Inner, error) {
			if cell == nil {
				return nil, nil
			}
			return scanPart(p, cell, decode)
		},
	}
}
