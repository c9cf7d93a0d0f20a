package layers

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"

	"panecore/palette"
)

// fields are the names that an object may hold; the first few must stand in it.
type fields struct {
	required int
	names    []string
}

// object is an object being read: which of its fields came by, which of them an
// unknown field was meant for, and the one whose value stands next.
type object struct {
	fields      *fields // nil: no object stood there
	seen, meant uint64  // bit i stands for names[i]
	at          int     // the place of the field in names
	remarks     int     // how many there were before it
}

func (o *object) has(name string) bool { return o.seen&o.bit(name) != 0 }

// lacks reports whether a field is missing, and not just misspelt.
func (o *object) lacks(name string) bool { return (o.seen|o.meant)&o.bit(name) == 0 }

func (o *object) bit(name string) uint64 { return 1 << slices.Index(o.fields.names, name) }

// object enters an object.
func (d *Decoder) object(fields *fields) object {
	o := object{fields: fields, remarks: len(d.remarks)}
	if !d.enter('{', "an object, {…}") {
		o.fields = nil
	}
	return o
}

// next goes on to the next known field of an object, or leaves the object.
// Names are compared here, not by the JSON reader, because a list is quicker
// than its hash and knows the place in our words.
func (d *Decoder) next(o *object) bool {
	for o.fields != nil && !d.stopped {
		token, err := d.json.ReadToken()
		if err != nil {
			d.stop(err)
			return false
		}
		if token.Kind() == '}' {
			d.requireFields(o)
			return false
		}
		i := slices.Index(o.fields.names, token.String())
		switch {
		case i < 0:
			d.reportUnknown(o, token.String())
			d.skip()
		case o.seen&(1<<i) != 0:
			d.reportTwice(o.fields.names[i])
			d.skip()
		default:
			o.seen |= 1 << i
			o.at = i
			return true
		}
	}
	return false
}

func (d *Decoder) requireFields(o *object) {
	for _, name := range o.fields.names[:o.fields.required] {
		if o.lacks(name) {
			d.report(d.json.StackPointer().AppendToken(name), "nothing", "this field: it can't be left out")
		}
	}
}

func (d *Decoder) reportUnknown(o *object, name string) {
	want := "one of " + strings.Join(o.fields.names, ", ")
	if near := Nearest(name, o.fields.names); near != "" {
		o.meant |= o.bit(near)
		want = "a known one: did you mean " + near + "?"
	}
	d.report(d.json.StackPointer().Parent(), "unknown field "+quote(name), want)
}

// reportTwice names the line, because path and field are the same for both.
func (d *Decoder) reportTwice(name string) {
	start := d.json.InputOffset() - int64(len(`"`+name+`"`))
	d.reportHere("the field a second time at "+d.source.at(start).String(), "it once")
}

// enter opens a list or an object and reports whether one stood there.
func (d *Decoder) enter(kind jsontext.Kind, want string) bool {
	if d.json.PeekKind() != kind {
		d.wrong(want)
		return false
	}
	_, err := d.json.ReadToken()
	if err != nil {
		d.stop(err)
	}
	return err == nil
}

// list enters a list.
func (d *Decoder) list() bool { return d.enter('[', "a list, […]") }

// more reports whether another entry follows in a list, and leaves the list if none does.
func (d *Decoder) more() bool {
	if d.stopped {
		return false
	}
	if kind := d.json.PeekKind(); kind != ']' && kind != jsontext.KindInvalid {
		return true
	}
	if _, err := d.json.ReadToken(); err != nil {
		d.stop(err)
	}
	return false
}

// wrong passes over a value of another kind than is wanted. Where that is the
// whole document, reading ends.
func (d *Decoder) wrong(want string) {
	if d.stopped {
		return
	}
	whole := d.json.StackDepth() == 0
	if whole {
		want = documentSketch
	}
	if found := d.pass(); !d.stopped {
		d.reportHere(found, want)
		d.stopped = whole
	}
}

// pass passes over a value and says what it was.
func (d *Decoder) pass() string {
	kind := d.json.PeekKind()
	if kind == '{' || kind == '[' {
		if d.json.StackDepth() > 0 {
			d.skip()
		}
		return map[jsontext.Kind]string{'{': "an object", '[': "a list"}[kind]
	}
	raw, err := d.json.ReadValue()
	if err != nil {
		d.stop(err)
		return ""
	}
	switch kind {
	case '"':
		return "the text " + quote(string(d.unquote(raw)))
	case '0':
		return "the number " + clip(string(raw))
	}
	return string(raw)
}

func (d *Decoder) skip() {
	if err := d.json.SkipValue(); err != nil {
		d.stop(err)
	}
}

// read reads a value of one kind, which holds until the next reading. Where
// another kind stands it reads nothing; wrong then passes over it.
func (d *Decoder) read(kind jsontext.Kind) (raw []byte, ok bool) {
	if d.json.PeekKind() != kind {
		return nil, false
	}
	raw, err := d.json.ReadValue()
	if err != nil {
		d.stop(err)
	}
	return raw, err == nil
}

// unquote is what a raw text says, good until the next reading.
func (d *Decoder) unquote(raw []byte) []byte {
	if bytes.IndexByte(raw, '\\') < 0 {
		return raw[1 : len(raw)-1]
	}
	d.text, _ = jsontext.AppendUnquote(d.text[:0], raw) // the JSON reader has checked it
	return d.text
}

// number reads a number within r.
func (d *Decoder) number(r measure) float64 {
	raw, ok := d.read('0')
	if !ok {
		d.wrong(r.String())
		return 0
	}
	value, err := strconv.ParseFloat(string(raw), 64)
	if err != nil || !r.holds(value) { // the only error is a number too large
		d.reportHere(clip(string(raw)), r.String())
		return 0
	}
	return value + 0 // -0 is 0
}

// flag reads true or false.
func (d *Decoder) flag() *bool {
	kind := d.json.PeekKind()
	if kind != 't' && kind != 'f' {
		d.wrong("true or false")
		return nil
	}
	if _, ok := d.read(kind); !ok {
		return nil
	}
	value := kind == 't'
	return &value
}

// truth reads true or false where what is left out is known; so is what a fault leaves.
func (d *Decoder) truth(leftOut bool) bool {
	if value := d.flag(); value != nil {
		return *value
	}
	return leftOut
}

// date reads a date up to today.
func (d *Decoder) date() Date {
	raw, ok := d.read('"')
	if !ok {
		d.wrong("a date as YYYY-MM-DD, in quotes")
		return 0
	}
	text := d.unquote(raw)
	date, want := parseDate(text)
	if want == "" && date > d.today {
		want = d.today.String() + " (today) or earlier"
	}
	if want != "" {
		d.reportHere(quote(string(text)), want)
		return 0
	}
	return date
}

// textOf reads a text that has a form, good until the next reading; nil after a fault.
func (d *Decoder) textOf(want string, hasForm func([]byte) bool) []byte {
	raw, ok := d.read('"')
	if !ok {
		d.wrong(want)
		return nil
	}
	text := d.unquote(raw)
	if !hasForm(text) {
		d.reportHere(quote(string(text)), want)
		return nil
	}
	return text
}

const clockWanted = "a time of day as HH:MM, 00:00 to 23:59"

// clock reads a time of day, kept as it is written.
func (d *Decoder) clock() string { return string(d.textOf(clockWanted, isClock)) }

func isClock(text []byte) bool {
	if len(text) != len("07:30") || text[2] != ':' {
		return false
	}
	hour, ok1 := parseDigits(text[:2])
	minute, ok2 := parseDigits(text[3:])
	return ok1 && ok2 && hour < 24 && minute < 60
}

// color reads a colour. It says the same as palette.ParseColor, without making
// a string of each of a million layers' colours.
func (d *Decoder) color() palette.Color {
	const want = "'#' and six hexadecimal digits, as in #8b5e3c"
	raw, ok := d.read('"')
	if !ok {
		d.wrong(want)
		return palette.Color{}
	}
	text := d.unquote(raw)
	var rgb [3]byte
	if len(text) == len("#8b5e3c") && text[0] == '#' {
		if _, err := hex.Decode(rgb[:], text[1:]); err == nil {
			return palette.Color{R: rgb[0], G: rgb[1], B: rgb[2]}
		}
	}
	d.reportHere(quote(string(text)), want)
	return palette.Color{}
}

// choose reads one of the words listed; "" after a fault.
func choose[Word ~string](d *Decoder, words []Word) Word {
	raw, ok := d.read('"')
	if !ok {
		d.wrong(oneOf(words))
		return ""
	}
	text := d.unquote(raw)
	for _, word := range words {
		if string(word) == string(text) {
			return word
		}
	}
	d.reportHere(quote(string(text)), oneOf(words))
	return ""
}

// oneOf writes "a, b or c".
func oneOf[Word ~string](words []Word) string {
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

const (
	longestName = 80   // characters, assumption: fits a line of a terminal
	longestNote = 4000 // characters, assumption: a page and a half

	labelWanted = "1 to 80 characters, no control characters, no blanks at the ends"
	noteWanted  = "at most 4000 characters, no control characters but newline and tab"
)

// label reads a name, an id or a station. It is good until the next reading.
func (d *Decoder) label() []byte { return d.free(labelWanted, faultOfLabel) }

// note reads free text.
func (d *Decoder) note() string { return string(d.free(noteWanted, faultOfNote)) }

// free reads a text in the keeper's own words, good until the next reading; nil after a fault.
func (d *Decoder) free(want string, faultOf func([]byte) string) []byte {
	raw, ok := d.read('"')
	if !ok {
		d.wrong("a text of " + want)
		return nil
	}
	text := d.unquote(raw)
	if found := faultOf(text); found != "" {
		d.reportHere(found, want)
		return nil
	}
	return text
}

func faultOfLabel(text []byte) string {
	first, _ := utf8.DecodeRune(text)
	last, _ := utf8.DecodeLastRune(text)
	switch length := utf8.RuneCount(text); {
	case length == 0:
		return "an empty text"
	case length > longestName:
		return fmt.Sprint(length, " characters")
	case bytes.ContainsFunc(text, unicode.IsControl):
		return quote(string(text))
	case unicode.IsSpace(first) || unicode.IsSpace(last):
		return quote(string(text))
	}
	return ""
}

func faultOfNote(text []byte) string {
	if length := utf8.RuneCount(text); length > longestNote {
		return fmt.Sprint(length, " characters")
	}
	if i := bytes.IndexFunc(text, isStrange); i >= 0 {
		r, _ := utf8.DecodeRune(text[i:])
		return fmt.Sprintf("the control character %U", r)
	}
	return ""
}

func isStrange(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }
