package layers

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"
)

// MaxFaults is how many faults of one document are told (assumption: a screenful).
const MaxFaults = 20

// Fault is one thing wrong with a document or with what was typed: the place, what stands there
// and what should. The place is empty where it is plain to see.
type Fault struct{ Where, Found, Want string }

func (f Fault) Error() string {
	switch {
	case f.Want == "": // it counts the faults not told
		return f.Found
	case f.Where == "":
		return "found " + f.Found + ", want " + f.Want
	}
	return f.Where + ": found " + f.Found + ", want " + f.Want
}

// Faults lists what is wrong with a document, in the order of reading: up to
// MaxFaults, and one line behind them that counts any others.
type Faults []Fault

func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, fault := range f {
		lines[i] = fault.Error()
	}
	return strings.Join(lines, "\n")
}

// remark is a Fault whose place is not yet put in words: the names of its tank
// and core may stand behind it in the document.
type remark struct {
	place       jsontext.Pointer
	found, want string
}

// report keeps a fault at the place given.
func (d *Decoder) report(place jsontext.Pointer, found, want string) {
	if len(d.faults)+len(d.remarks) == MaxFaults {
		d.untold++
		return
	}
	d.remarks = append(d.remarks, remark{place, found, want})
}

// reportHere keeps a fault of the value just read.
func (d *Decoder) reportHere(found, want string) { d.report(d.json.StackPointer(), found, want) }

// settle puts the places of the remarks in words, as the tank at hand ends.
func (d *Decoder) settle() {
	for _, r := range d.remarks {
		d.faults = append(d.faults, Fault{d.where(r.place), r.found, r.want})
	}
	d.remarks = d.remarks[:0]
}

// faultless reports whether nothing was found wrong so far.
func (d *Decoder) faultless() bool { return len(d.faults)+len(d.remarks) == 0 }

// wholeDocument is the place of a fault that no field has.
const wholeDocument = "document"

// where words a place: its tank by id, its core by station and date, and the
// path from there.
func (d *Decoder) where(place jsontext.Pointer) string {
	steps := strings.Split(string(place), "/")[1:]
	var parts []string
	if len(steps) > 1 && steps[0] == "tanks" && isDigits(steps[1]) {
		parts = append(parts, d.tankName(steps[1]))
		steps = steps[2:]
		if len(steps) > 1 && steps[0] == "cores" && isDigits(steps[1]) {
			parts = append(parts, d.coreName(steps[1]))
			steps = steps[2:]
		}
	}
	if path := joinPath(steps); path != "" {
		parts = append(parts, path)
	}
	if len(parts) == 0 {
		return wholeDocument
	}
	return strings.Join(parts, ", ")
}

func (d *Decoder) tankName(index string) string {
	if d.tank.ID == "" || d.twin {
		return "tanks[" + index + "]"
	}
	return fmt.Sprintf("tank %q", d.tank.ID)
}

func (d *Decoder) coreName(index string) string {
	if i, err := strconv.Atoi(index); err == nil && i < len(d.cores) {
		core := &d.cores[i]
		known := core.Station != "" && core.Date != 0
		if first, ok := d.coreAt[reading{core.Station, core.Date}]; known && (!ok || first == i) {
			return "core " + core.Station + " " + core.Date.String()
		}
	}
	return "cores[" + index + "]"
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
		case isDigits(step):
			path.WriteString("[" + step + "]")
			continue
		case i > 0:
			path.WriteByte('.')
		}
		path.WriteString(plain(step))
	}
	return path.String()
}

func isDigits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

// plain keeps a field's name that is safe to print, and quotes any other.
func plain(name string) string {
	if strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789_") == "" {
		return name
	}
	return quote(name)
}

// quote writes text in quotes on one line, cut where it is long.
func quote(text string) string {
	if short, cut := shorten(text); cut {
		return strconv.Quote(short) + "…"
	}
	return strconv.Quote(text)
}

// clip is quote for a number, which needs no quotes.
func clip(number string) string {
	if short, cut := shorten(number); cut {
		return short + "…"
	}
	return number
}

func shorten(text string) (short string, cut bool) {
	const longest = 40 // characters, assumption: the line stays readable
	if utf8.RuneCountInString(text) <= longest {
		return text, false
	}
	return string([]rune(text)[:longest]), true
}

// Nearest is the known name that a mistyped one may stand for, or "".
func Nearest(name string, known []string) string {
	const (
		longest = 40 // bytes, longer than any field's name
		fewest  = 3  // letters that tell a name by a part of it: "temp"
		slips   = 2  // letters mistyped, one in three at most
	)
	if len(name) > longest {
		return ""
	}
	name = strings.ToLower(name)
	best, distance := "", min(slips, len(name)/3)+1
	for _, k := range known {
		if e := edits(name, k); e < distance {
			best, distance = k, e
		}
	}
	if best == "" && len(name) >= fewest {
		if i := slices.IndexFunc(known, func(k string) bool { return strings.Contains(k, name) }); i >= 0 {
			best = known[i]
		}
	}
	return best
}

// edits is the number of letters put in, left out or changed between two names
// (the distance of Levenshtein).
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(b)]
}

// stop ends decoding at an error of the JSON reader.
func (d *Decoder) stop(err error) {
	d.stopped = true
	if fault, ok := errors.AsType[Fault](err); ok { // a document too large
		d.halt(fault)
		return
	}
	if err == io.EOF {
		d.halt(Fault{wholeDocument, "nothing", documentSketch})
		return
	}
	if syntax, ok := errors.AsType[*jsontext.SyntacticError](err); ok {
		d.halt(d.syntaxFault(syntax))
		return
	}
	if cause := errors.Unwrap(err); cause != nil {
		err = cause // the JSON reader's own words add nothing
	}
	d.err = fmt.Errorf("reading the logbook document: %w", err)
}

// halt adds the fault that ends decoding to the faults found before.
func (d *Decoder) halt(fault Fault) {
	d.settle()
	if len(d.faults) == MaxFaults {
		d.untold++
		return
	}
	d.faults = append(d.faults, fault)
}

// syntaxFault words a breach of JSON's grammar.
func (d *Decoder) syntaxFault(err *jsontext.SyntacticError) Fault {
	fault := Fault{
		Where: d.source.at(err.ByteOffset).String(),
		Found: token(d.source.from(err.ByteOffset)),
	}
	if place := d.where(err.JSONPointer); place != wholeDocument {
		fault.Where += ", in " + place
	}
	reason := err.Err.Error()
	if kind, length := d.json.StackIndex(d.json.StackDepth()); kind == '{' && length%2 == 0 {
		reason += nameWanted
	}
	for _, rule := range syntaxRules {
		if strings.Contains(reason, rule.reason) {
			fault.Want = rule.want
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
	{"max depth", "lists or objects 10,000 deep", documentSketch},
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
		return quote(word)
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
		return quote(text[:size])
	}
}

// blanks is how many blanks rest begins with.
func blanks(rest []byte) int { return len(rest) - len(bytes.TrimLeft(rest, " \t\r\n")) }
