package jsonio

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// A Writer gathers a part of a document and then writes it: an object or a list on a line a field
// or entry, or within a row all on one line. It checks nothing but that JSON can hold what it is
// given; the first error stays.
type Writer struct {
	out    io.Writer
	buf    []byte
	indent int
	inRow  bool  // within an object or list that stands on one line
	bare   bool  // nothing stands yet in the object or list at hand
	err    error // the first
}

// NewWriter writes a document to out.
func NewWriter(out io.Writer) *Writer { return &Writer{out: out} }

// NewRow gathers a part of a document on one line.
func NewRow() *Writer { return &Writer{inRow: true} }

// String is what was gathered since the last flush.
func (w *Writer) String() string { return string(w.buf) }

// Err is the first error.
func (w *Writer) Err() error { return w.err }

// Finish writes the rest and a line break, and returns the first error.
func (w *Writer) Finish() error {
	w.buf = append(w.buf, '\n')
	w.Flush()
	return w.err
}

// Flush writes what was gathered.
func (w *Writer) Flush() {
	if w.err == nil {
		_, w.err = w.out.Write(w.buf)
	}
	w.buf = w.buf[:0]
}

// Text writes a field that holds text, unless it is empty.
func (w *Writer) Text(name, value string) {
	if value != "" {
		w.Key(name)
		w.Quote(value)
	}
}

// Number writes a field that holds a number.
func (w *Writer) Number(name string, value float64) {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		w.fail(fmt.Errorf("found %s %v, want a number", name, value))
		return
	}
	w.Key(name)
	w.buf = jsontext.AppendFloat(w.buf, value, 64)
}

// Truth writes a field that holds true or false.
func (w *Writer) Truth(name string, value bool) {
	w.Key(name)
	w.buf = strconv.AppendBool(w.buf, value)
}

// Quote writes a text as a value.
func (w *Writer) Quote(text string) {
	quoted, err := jsontext.AppendQuote(w.buf, text)
	if err != nil {
		w.fail(fmt.Errorf("found text %q, want UTF-8", text))
	}
	w.buf = quoted
}

func (w *Writer) fail(err error) {
	if w.err == nil {
		w.err = err
	}
}

// Key writes the name of a field, whose value comes next.
func (w *Writer) Key(name string) {
	w.Next()
	w.buf = append(append(append(w.buf, '"'), name...), `": `...)
}

// Next goes on to another field or entry.
func (w *Writer) Next() {
	if !w.bare {
		w.buf = append(w.buf, ',')
	}
	switch {
	case !w.inRow:
		w.line()
	case !w.bare:
		w.buf = append(w.buf, ' ')
	}
	w.bare = false
}

// Begin opens an object or a list.
func (w *Writer) Begin(bracket byte) {
	w.buf = append(w.buf, bracket)
	w.indent++
	w.bare = true
}

// End closes one.
func (w *Writer) End(bracket byte) {
	w.indent--
	if !w.inRow && !w.bare {
		w.line()
	}
	w.buf = append(w.buf, bracket)
	w.bare = false
}

// Row has what follows stand on one line, or no longer; it returns whether it did before.
func (w *Writer) Row(inRow bool) (before bool) {
	before, w.inRow = w.inRow, inRow
	return before
}

func (w *Writer) line() {
	w.buf = append(append(w.buf, '\n'), strings.Repeat("  ", w.indent)...)
}
