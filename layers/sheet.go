package layers

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"panecore/layers/jsonio"
	"panecore/palette"
)

// maxSheet is the size of the largest table of layers in bytes (assumption: a
// hundred layers with a page of notes each fit in).
const maxSheet = 1 << 20

// A heading is a name that a column may have, and the field of a layer that the column holds.
type heading struct {
	name  string
	field *Field[Layer]
}

func headings() (list []heading) {
	also := map[string][]string{thicknessHeading: {"thickness"}, colorHeading: {"colour", "color"}}
	for i := range layerTable.fields {
		f := &layerTable.fields[i]
		if !f.Typed() {
			continue
		}
		for _, name := range append([]string{f.Name}, also[f.Name]...) {
			list = append(list, heading{name, f})
		}
	}
	return list
}

const (
	// thicknessHeading heads a column of bare numbers; under any other the unit stands in each cell.
	thicknessHeading = "thickness_mm"
	colorHeading     = "hex"
)

// sheet is a table of layers being read.
type sheet struct {
	named  func(string) (palette.Color, bool)
	cells  *csv.Reader
	names  []string        // the headings as they are typed
	fields []*Field[Layer] // that the columns hold; nil: none
	inMM   bool            // the thicknesses are bare numbers
	layers []Layer
	faults Faults
}

// ReadSheet reads the layers of one core, top to bottom, from a table as a
// spreadsheet saves or copies it: a row of headings and then a row a layer. The
// headings, in any order, are thickness_mm (numbers) or thickness (with a unit in
// each cell), hex, colour or color (as [ParseLayer] takes one, with named), band
// and note. Cells are parted by tabs, semicolons or commas, whichever the headings
// are. Numbers have a decimal point or comma, the latter within quote marks where
// commas part the cells. Empty rows are passed over.
//
// An error is [Faults], whose places are rows, counted in lines from 1 as a
// spreadsheet does, and headings; or it is that of r, wrapped.
func ReadSheet(r io.Reader, named func(name string) (palette.Color, bool)) ([]Layer, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxSheet+1))
	if err != nil {
		return nil, fmt.Errorf("reading the table: %w", err)
	}
	text = bytes.TrimPrefix(text, []byte(jsonio.ByteOrderMark))
	switch {
	case len(text) > maxSheet:
		return nil, Faults{{Where: "table", Found: "more than 1 MiB", Want: "the layers of one core"}}
	case !utf8.Valid(text):
		return nil, Faults{{Where: "table", Found: "bytes that are no UTF-8 text", Want: "a table saved as UTF-8"}}
	}
	s := &sheet{named: named, cells: csv.NewReader(bytes.NewReader(text))}
	s.cells.FieldsPerRecord = -1 // a row may end early
	s.cells.Comma = separator(text)
	s.cells.TrimLeadingSpace = s.cells.Comma != '\t'
	s.read()
	if len(s.faults) > 0 {
		return nil, s.faults.Told()
	}
	return s.layers, nil
}

// separator is the sign between the cells of a table: a heading holds none itself.
func separator(table []byte) rune {
	heading, _, _ := bytes.Cut(bytes.TrimLeft(table, "\r\n"), []byte{'\n'})
	for _, sign := range "\t;" {
		if bytes.ContainsRune(heading, sign) {
			return sign
		}
	}
	return ','
}

func (s *sheet) report(where, found, want string) {
	s.faults = append(s.faults, Fault{Where: where, Found: found, Want: want})
}

func (s *sheet) read() {
	heading, ok := s.next()
	if !ok {
		if len(s.faults) == 0 {
			s.report("table", "nothing", "headings, such as thickness_mm and hex, and a row a layer")
		}
		return
	}
	s.readHeadings(heading)
	if len(s.faults) > 0 {
		return // what its cells mean is not known
	}
	for row, ok := s.next(); ok; row, ok = s.next() {
		s.readRow(row)
	}
	if len(s.layers) == 0 && len(s.faults) == 0 {
		s.report("table", "no row below the headings", "a row a layer")
	}
}

// next reads a row that is not empty, its cells without blanks around. It ends at a
// breach of the table's grammar.
func (s *sheet) next() (row []string, ok bool) {
	for {
		row, err := s.cells.Read()
		var breach *csv.ParseError
		switch {
		case errors.As(err, &breach):
			s.report(fmt.Sprintf("row %d", breach.Line), "a quote mark out of place",
				"a cell with quote marks in it to stand in quote marks, each within it doubled")
			return nil, false
		case err != nil:
			return nil, false // the end
		}
		for i := range row {
			row[i] = strings.TrimSpace(row[i])
		}
		if slices.ContainsFunc(row, func(cell string) bool { return cell != "" }) {
			return row, true
		}
	}
}

func (s *sheet) readHeadings(row []string) {
	for _, name := range row {
		field := s.readHeading(name)
		if field != nil && slices.Contains(s.fields, field) {
			s.report("headings", jsonio.Quote(name)+", a second column of the same", "one")
		}
		s.names = append(s.names, name)
		s.fields = append(s.fields, field)
	}
	if len(s.faults) > 0 {
		return
	}
	for i := range layerTable.fields {
		if f := &layerTable.fields[i]; f.Needed && !slices.Contains(s.fields, f) {
			s.report("headings", "no "+f.Name, "a column of it")
		}
	}
}

// readHeading tells a column by its heading; one without a heading must be empty.
func (s *sheet) readHeading(name string) *Field[Layer] {
	if name == "" {
		return nil
	}
	var known []string
	for _, h := range headings() {
		if h.name == normal(name) {
			s.inMM = s.inMM || h.name == thicknessHeading
			return h.field
		}
		known = append(known, h.name)
	}
	s.report("headings", "unknown heading "+jsonio.Quote(name), wanted(normal(name), known))
	return nil
}

// normal writes a heading as ours are: "Thickness (mm)" is thickness_mm.
func normal(heading string) string {
	words := strings.FieldsFunc(strings.ToLower(heading), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return strings.Join(words, "_")
}

func (s *sheet) readRow(row []string) {
	line, _ := s.cells.FieldPos(0)
	var l Layer
	for i := range max(len(row), len(s.fields)) {
		var cell string
		if i < len(row) {
			cell = row[i]
		}
		if i >= len(s.fields) || s.fields[i] == nil {
			if cell != "" {
				s.report(fmt.Sprintf("row %d", line), fmt.Sprintf("%s in column %d", jsonio.Quote(cell), i+1), s.strayWanted())
			}
			continue
		}
		var fault Fault
		if errors.As(s.readCell(&l, s.fields[i], cell), &fault) {
			s.report(fmt.Sprintf("row %d, %s", line, s.names[i]), fault.Found, fault.Want)
		}
	}
	s.layers = append(s.layers, l)
}

// strayWanted says what a cell outside the columns should have been.
func (s *sheet) strayWanted() string {
	if s.cells.Comma == ',' {
		return "no cell without a heading (a number with a decimal comma stands in quote marks here)"
	}
	return "no cell without a heading"
}

func (s *sheet) readCell(l *Layer, field *Field[Layer], cell string) (err error) {
	switch field.Name {
	case thicknessHeading:
		l.ThicknessMM, err = s.readThickness(cell)
	case colorHeading:
		l.Color, err = parseColor(cell, s.named)
	default:
		err = field.Parse(l, cell)
	}
	return err
}

func (s *sheet) readThickness(cell string) (mm float64, err error) {
	if !s.inMM {
		return parseThickness(cell)
	}
	mm, want := decimal(cell, thicknessRange.String())
	return thickness(cell, mm, want)
}
