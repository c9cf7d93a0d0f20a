package jsonio

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"
)

// remark is a Fault whose place is not yet put in words: the names of its tank
// and core may stand behind it in the document.
type remark struct {
	place       jsontext.Pointer
	found, want string
}

// Report keeps a fault at a place, as in /tanks/3/id.
func (r *Reader) Report(place string, found, want string) {
	if len(r.faults)+len(r.remarks) == MaxFaults {
		r.untold++
		return
	}
	r.remarks = append(r.remarks, remark{jsontext.Pointer(place), found, want})
}

// ReportHere keeps a fault of the value just read.
func (r *Reader) ReportHere(found, want string) { r.Report(string(r.json.StackPointer()), found, want) }

// Settle puts the places of the remarks in words, as what they name ends.
func (r *Reader) Settle() {
	for _, m := range r.remarks {
		r.faults = append(r.faults, Fault{r.where(m.place), m.found, m.want})
	}
	r.remarks = r.remarks[:0]
}

// Faultless reports whether nothing was found wrong so far.
func (r *Reader) Faultless() bool { return len(r.faults)+len(r.remarks) == 0 }

// ReportField keeps a fault of a field of the object at hand.
func (r *Reader) ReportField(name, found, want string) {
	r.Report(string(r.json.StackPointer().AppendToken(name)), found, want)
}

// where words a place by the names of its first steps and the path from there.
func (r *Reader) where(place jsontext.Pointer) string {
	parts, steps := r.named(strings.Split(string(place), "/")[1:])
	if path := joinPath(steps); path != "" {
		parts = append(parts, path)
	}
	if len(parts) == 0 {
		return WholeDocument
	}
	return strings.Join(parts, ", ")
}

// joinPath writes vessel.shape or layers[1].hex; in these documents a step of
// digits is always the number of a list's entry.
func joinPath(steps []string) string {
	const deepest = 4 // steps, more than any field of ours is deep
	var path strings.Builder
	for i, step := range steps {
		switch {
		case i == deepest:
			return path.String() + "…"
		case IsIndex(step):
			path.WriteString("[" + step + "]")
			continue
		case i > 0:
			path.WriteByte('.')
		}
		path.WriteString(plain(step))
	}
	return path.String()
}

// IsIndex reports whether a step of a path is the number of a list's entry.
func IsIndex(step string) bool { return step != "" && strings.Trim(step, "0123456789") == "" }

// plain keeps a field's name that is safe to print, and quotes any other.
func plain(name string) string {
	if strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789_") == "" {
		return name
	}
	return Quote(name)
}

// stop ends decoding at an error of the JSON reader.
func (r *Reader) stop(err error) {
	r.stopped = true
	if fault, ok := errors.AsType[Fault](err); ok { // a document too large
		r.halt(fault)
		return
	}
	if err == io.EOF {
		r.halt(Fault{WholeDocument, "nothing", r.sketch})
		return
	}
	if syntax, ok := errors.AsType[*jsontext.SyntacticError](err); ok {
		r.halt(r.syntaxFault(syntax))
		return
	}
	if cause := errors.Unwrap(err); cause != nil {
		err = cause // the JSON reader's own words add nothing
	}
	r.err = err
}

// halt adds the fault that ends decoding to the faults found before.
func (r *Reader) halt(fault Fault) {
	r.Settle()
	if len(r.faults) == MaxFaults {
		r.untold++
		return
	}
	r.faults = append(r.faults, fault)
}

// syntaxFault words a breach of JSON's grammar.
func (r *Reader) syntaxFault(err *jsontext.SyntacticError) Fault {
	fault := Fault{
		Where: r.source.at(err.ByteOffset).String(),
		Found: token(r.source.from(err.ByteOffset)),
	}
	if place := r.where(err.JSONPointer); place != WholeDocument {
		fault.Where += ", in " + place
	}
	reason := err.Err.Error()
	if kind, length := r.json.StackIndex(r.json.StackDepth()); kind == '{' && length%2 == 0 {
		reason += nameWanted
	}
	for _, rule := range syntaxRules {
		if strings.Contains(reason, rule.reason) {
			fault.Want = rule.want
			if fault.Want == "" {
				fault.Want = r.sketch
			}
			if rule.found != "" {
				fault.Found = rule.found
			}
			break
		}
	}
	return fault
}

// nameWanted marks a reason given where the name of a field should stand.
const nameWanted = " (a name)"

// syntaxRules say what is wanted for each reason that the JSON reader gives; the
// first that fits holds.
var syntaxRules = []struct{ reason, found, want string }{
	{io.ErrUnexpectedEOF.Error(), "the end of the document", "its rest: it seems cut off"},
	{"expecting ':'", "", "a colon between the field's name and its value"},
	{"missing value after object name", "", "a colon and a value after the field's name"},
	{"expecting ',' or '}'", "", "a comma or }"},
	{"expecting ',' or ']'", "", "a comma or ]"},
	{"expecting non-control character", "", `a closing quote mark first (a line break within text is written \n)`},
	{"member name must be a string", "", "a field's name in double quotes (a number takes a point, not a comma: 1.5)"},
	{"in number", "", "a digit"},
	{"escape sequence", "", `an escape that JSON knows, such as \\, \" or \n`},
	{"surrogate pair", "", `an escape that JSON knows, such as \\, \" or \n`},
	{"UTF-8", "bytes that are no UTF-8 text", "a file saved as UTF-8"},
	{"max depth", "lists or objects 10,000 deep", ""}, // the sketch
	{"character ','", "a comma with no value beside it", "commas between values only, none after the last"},
	{nameWanted, "", "a field's name in double quotes"},
	{"", "", "a number, a text in double quotes, true, false, a list or an object"},
}

// token words what rest begins with: a run of letters and digits, or a character.
func token(rest []byte) string {
	const longest = 100 // bytes, more than quote shows
	text := string(rest[:min(len(rest), longest)])
	isWord := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	if word := text[:len(text)-len(strings.TrimLeftFunc(text, isWord))]; word != "" {
		return Quote(word)
	}
	switch first, size := utf8.DecodeRuneInString(text); first {
	case '"':
		return "a quote mark"
	case '\n', '\r':
		return "a line break"
	case '\'':
		return "a single quote mark"
	case '{', '}', '[', ']', '\\':
		return string(first)
	default:
		return Quote(text[:size])
	}
}

// blanks is how many blanks rest begins with.
func blanks(rest []byte) int { return len(rest) - len(bytes.TrimLeft(rest, " \t\r\n")) }

// End sees to it that nothing follows the document.
func (r *Reader) End() {
	if !r.stopped {
		offset := r.json.InputOffset()
		_, err := r.json.ReadToken()
		_, syntax := errors.AsType[*jsontext.SyntacticError](err)
		switch {
		case err == nil || syntax:
			offset += int64(blanks(r.source.from(offset)))
			r.halt(Fault{r.source.at(offset).String(), token(r.source.from(offset)), "nothing after the document"})
		case err != io.EOF:
			r.stop(err)
		}
	}
	r.Settle()
}

// Err is what was wrong, once reading has ended: nil, [Faults], or the error of
// the source underneath, wrapped.
func (r *Reader) Err() error {
	switch {
	case r.err != nil:
		return r.err
	case r.Faultless():
		return nil
	}
	faults := r.faults
	if r.untold > 0 {
		faults = append(faults, Fault{Found: fmt.Sprintf("further faults: %d", r.untold)})
	}
	return faults
}
