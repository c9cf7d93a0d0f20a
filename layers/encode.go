package layers

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// Encode writes the tanks as a logbook document in its one canonical form: fields
// in the order of the manual, what is not given left out, a line each for a
// layer, a native substrate, a water test and an event, so that logbooks compare
// well line by line. The tanks are taken as they are; only a number or a text
// that JSON can't hold is an error.
func Encode(w io.Writer, tanks []Tank) error {
	e := &encoder{w: w}
	e.begin('{')
	e.text("format", DocumentFormat)
	e.key("tanks")
	e.begin('[')
	for i := range tanks {
		e.next()
		tankTable.block(e, &tanks[i])
		e.flush()
	}
	e.end(']')
	e.end('}')
	e.buf = append(e.buf, '\n')
	e.flush()
	return e.err
}

// encoder gathers a tank's part of the document and then writes it.
type encoder struct {
	w      io.Writer
	buf    []byte
	indent int
	inRow  bool  // within an object or list that stands on one line
	bare   bool  // nothing stands yet in the object or list at hand
	err    error // the first
}

func (e *encoder) flush() {
	if e.err == nil {
		_, e.err = e.w.Write(e.buf)
	}
	e.buf = e.buf[:0]
}

// text writes a field that holds text, unless it is empty.
func (e *encoder) text(name, value string) {
	if value != "" {
		e.key(name)
		e.quote(value)
	}
}

func (e *encoder) number(name string, value float64) {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		e.fail(fmt.Errorf("found %s %v, want a number", name, value))
		return
	}
	e.key(name)
	e.buf = jsontext.AppendFloat(e.buf, value, 64)
}

func (e *encoder) truth(name string, value bool) {
	e.key(name)
	e.buf = strconv.AppendBool(e.buf, value)
}

func (e *encoder) quote(text string) {
	quoted, err := jsontext.AppendQuote(e.buf, text)
	if err != nil {
		e.fail(fmt.Errorf("found text %q, want UTF-8", text))
	}
	e.buf = quoted
}

func (e *encoder) fail(err error) {
	if e.err == nil {
		e.err = err
	}
}

func (e *encoder) key(name string) {
	e.next()
	e.buf = append(append(append(e.buf, '"'), name...), `": `...)
}

// next goes on to another field or entry.
func (e *encoder) next() {
	if !e.bare {
		e.buf = append(e.buf, ',')
	}
	switch {
	case !e.inRow:
		e.line()
	case !e.bare:
		e.buf = append(e.buf, ' ')
	}
	e.bare = false
}

func (e *encoder) begin(bracket byte) {
	e.buf = append(e.buf, bracket)
	e.indent++
	e.bare = true
}

func (e *encoder) end(bracket byte) {
	e.indent--
	if !e.inRow && !e.bare {
		e.line()
	}
	e.buf = append(e.buf, bracket)
	e.bare = false
}

// row writes an object or a list on one line, with all that is in it.
func (e *encoder) row(opening byte, fill func(), closing byte) {
	outside := e.inRow
	e.inRow = true
	e.begin(opening)
	fill()
	e.end(closing)
	e.inRow = outside
}

func (e *encoder) line() {
	e.buf = append(append(e.buf, '\n'), strings.Repeat("  ", e.indent)...)
}
