// Package jsonio reads a document of JSON strictly, telling every fault by its place in it, what
// was found and what is wanted, and writes one in a single canonical form.
package jsonio

import (
	"bytes"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// A Reader reads one document. What is at fault it passes over, to find the other faults. It is
// for one goroutine.
type Reader struct {
	json   *jsontext.Decoder
	source *source
	sketch string                                      // what is wanted where the whole document is something else
	named  func(steps []string) (names, rest []string) // see NewReader
	text   []byte                                      // the last text that held escapes
	part   []byte                                      // what Reset was given

	remarks []remark
	faults  Faults
	untold  int // faults past MaxFaults
	stopped bool
	err     error // the source's own
}

// NewReader reads a document from source. sketch says what is wanted where all of it is something
// else; named takes the first steps off a path ("tanks", "3") where it has names for them.
func NewReader(from io.Reader, sketch string, named func(steps []string) (names, rest []string)) *Reader {
	r := &Reader{source: &source{r: from}, sketch: sketch, named: named}
	r.json = jsontext.NewDecoder(r.source, jsontext.AllowDuplicateNames(true)) // Next finds them
	r.source.taken = r.json.InputOffset
	return r
}

// Reset has the reader read text, which must not be long, as another document.
func (r *Reader) Reset(text string) {
	r.part = append(r.part[:0], text...)
	*r.source = source{held: r.part, given: len(r.part)}
	r.json.Reset(bytes.NewBuffer(r.part), jsontext.AllowDuplicateNames(true))
	r.faults, r.untold, r.stopped, r.err = nil, 0, false, nil
}

// A Range is where a number must lie. Its String says what is wanted, as in "a number from 0 to 1".
type Range interface {
	Holds(value float64) bool
	String() string
}

// Fields are the names that an object may hold; the first few must stand in it.
type Fields struct {
	Required int
	Names    []string
}

// An Object is one being read: which of its fields came by, which of them an
// unknown field was meant for, and the one whose value stands next.
type Object struct {
	fields      *Fields // nil: no object stood there
	seen, meant uint64  // bit i stands for Names[i]
	At          int     // the place of the field in Names
	remarks     int     // how many there were before it
}

func (o *Object) Has(name string) bool { return o.seen&o.bit(name) != 0 }

// Lacks reports whether a field is missing, and not just misspelt.
func (o *Object) Lacks(name string) bool { return (o.seen|o.meant)&o.bit(name) == 0 }

func (o *Object) bit(name string) uint64 { return 1 << slices.Index(o.fields.Names, name) }

// Object enters an object.
func (r *Reader) Object(fields *Fields) Object {
	o := Object{fields: fields, remarks: len(r.remarks)}
	if !r.enter('{', "an object, {…}") {
		o.fields = nil
	}
	return o
}

// Next goes on to the next known field of an object, or leaves the object.
// Names are compared here, not by the JSON reader, because a list is quicker
// than its hash and knows the place in our words.
func (r *Reader) Next(o *Object) bool {
	for o.fields != nil && !r.stopped {
		token, err := r.json.ReadToken()
		if err != nil {
			r.stop(err)
			return false
		}
		if token.Kind() == '}' {
			r.requireFields(o)
			return false
		}
		i := slices.Index(o.fields.Names, token.String())
		switch {
		case i < 0:
			r.reportUnknown(o, token.String())
			r.skip()
		case o.seen&(1<<i) != 0:
			r.reportTwice(o.fields.Names[i])
			r.skip()
		default:
			o.seen |= 1 << i
			o.At = i
			return true
		}
	}
	return false
}

func (r *Reader) requireFields(o *Object) {
	for _, name := range o.fields.Names[:o.fields.Required] {
		if o.Lacks(name) {
			r.ReportField(name, "nothing", "this field: it can't be left out")
		}
	}
}

func (r *Reader) reportUnknown(o *Object, name string) {
	want := "one of " + strings.Join(o.fields.Names, ", ")
	if near := Nearest(name, o.fields.Names); near != "" {
		o.meant |= o.bit(near)
		want = "a known one: did you mean " + near + "?"
	}
	r.Report(string(r.json.StackPointer().Parent()), "unknown field "+Quote(name), want)
}

// reportTwice names the line, because path and field are the same for both.
func (r *Reader) reportTwice(name string) {
	start := r.json.InputOffset() - int64(len(`"`+name+`"`))
	r.ReportHere("the field a second time at "+r.source.at(start).String(), "it once")
}

// enter opens a list or an object and reports whether one stood there.
func (r *Reader) enter(kind jsontext.Kind, want string) bool {
	if r.json.PeekKind() != kind {
		r.wrong(want)
		return false
	}
	_, err := r.json.ReadToken()
	if err != nil {
		r.stop(err)
	}
	return err == nil
}

// List enters a list.
func (r *Reader) List() bool { return r.enter('[', "a list, […]") }

// More reports whether another entry follows in a list, and leaves the list if none does.
func (r *Reader) More() bool {
	if r.stopped {
		return false
	}
	if kind := r.json.PeekKind(); kind != ']' && kind != jsontext.KindInvalid {
		return true
	}
	if _, err := r.json.ReadToken(); err != nil {
		r.stop(err)
	}
	return false
}

// wrong passes over a value of another kind than is wanted. Where that is the
// whole document, reading ends.
func (r *Reader) wrong(want string) {
	if r.stopped {
		return
	}
	whole := r.json.StackDepth() == 0
	if whole {
		want = r.sketch
	}
	if found := r.pass(); !r.stopped {
		r.ReportHere(found, want)
		r.stopped = whole
	}
}

// pass passes over a value and says what it was.
func (r *Reader) pass() string {
	kind := r.json.PeekKind()
	if kind == '{' || kind == '[' {
		if r.json.StackDepth() > 0 {
			r.skip()
		}
		return map[jsontext.Kind]string{'{': "an object", '[': "a list"}[kind]
	}
	raw, err := r.json.ReadValue()
	if err != nil {
		r.stop(err)
		return ""
	}
	switch kind {
	case '"':
		return "the text " + Quote(string(r.unquote(raw)))
	case '0':
		return "the number " + clip(string(raw))
	}
	return string(raw)
}

func (r *Reader) skip() {
	if err := r.json.SkipValue(); err != nil {
		r.stop(err)
	}
}

// read reads a value of one kind, which holds until the next reading. Where
// another kind stands it reads nothing; wrong then passes over it.
func (r *Reader) read(kind jsontext.Kind) (raw []byte, ok bool) {
	if r.json.PeekKind() != kind {
		return nil, false
	}
	raw, err := r.json.ReadValue()
	if err != nil {
		r.stop(err)
	}
	return raw, err == nil
}

// unquote is what a raw text says, good until the next reading.
func (r *Reader) unquote(raw []byte) []byte {
	if bytes.IndexByte(raw, '\\') < 0 {
		return raw[1 : len(raw)-1]
	}
	r.text, _ = jsontext.AppendUnquote(r.text[:0], raw) // the JSON reader has checked it
	return r.text
}

// Number reads a number in a range; 0 after a fault.
func (r *Reader) Number(in Range) float64 {
	raw, ok := r.read('0')
	if !ok {
		r.wrong(in.String())
		return 0
	}
	value, err := strconv.ParseFloat(string(raw), 64)
	if err != nil || !in.Holds(value) { // the only error is a number too large
		r.ReportHere(clip(string(raw)), in.String())
		return 0
	}
	return value + 0 // -0 is 0
}

// Flag reads true or false.
func (r *Reader) Flag() *bool {
	kind := r.json.PeekKind()
	if kind != 't' && kind != 'f' {
		r.wrong("true or false")
		return nil
	}
	if _, ok := r.read(kind); !ok {
		return nil
	}
	value := kind == 't'
	return &value
}

// Choose reads one of the words listed; "" after a fault.
func Choose[Word ~string](r *Reader, words []Word) Word {
	raw, ok := r.read('"')
	if !ok {
		r.wrong(OneOf(words))
		return ""
	}
	text := r.unquote(raw)
	for _, word := range words {
		if string(word) == string(text) {
			return word
		}
	}
	r.ReportHere(Quote(string(text)), OneOf(words))
	return ""
}

// OneOf writes "a, b or c".
func OneOf[Word ~string](words []Word) string {
	list := string(words[0])
	for i, word := range words[1:] {
		if i == len(words)-2 {
			list += " or " + string(word)
		} else {
			list += ", " + string(word)
		}
	}
	return list
}

// Text reads a text, which is good until the next reading. Where something else stands it tells
// what is wanted.
func (r *Reader) Text(want string) (text []byte, ok bool) {
	raw, ok := r.read('"')
	if !ok {
		r.wrong(want)
		return nil, false
	}
	return r.unquote(raw), true
}

// Stopped reports whether reading has ended before the document.
func (r *Reader) Stopped() bool { return r.stopped }

// Sound reports whether nothing was found wrong with an object so far.
func (r *Reader) Sound(o Object) bool { return len(r.remarks) == o.remarks }
