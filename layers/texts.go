package layers

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"unicode"
	"unicode/utf8"

	"panecore/layers/jsonio"
	"panecore/palette"
)

// date reads a date up to today.
func (d *Decoder) date() Date {
	text, ok := d.in.Text("a date as YYYY-MM-DD, in quotes")
	if !ok {
		return 0
	}
	date, want := parseDate(text)
	if want == "" && date > d.today {
		want = d.today.String() + " (today) or earlier"
	}
	if want != "" {
		d.in.ReportHere(jsonio.Quote(string(text)), want)
		return 0
	}
	return date
}

// color reads a colour. It says the same as palette.ParseColor, without making
// a string of each of a million layers' colours.
func (d *Decoder) color() (c palette.Color) {
	const want = "'#' and six hexadecimal digits, as in #8b5e3c"
	text, ok := d.in.Text(want)
	if !ok {
		return c
	}
	var rgb [3]byte
	if len(text) == len("#8b5e3c") && text[0] == '#' {
		if _, err := hex.Decode(rgb[:], text[1:]); err == nil {
			return palette.Color{R: rgb[0], G: rgb[1], B: rgb[2]}
		}
	}
	d.in.ReportHere(jsonio.Quote(string(text)), want)
	return c
}

const clockWanted = "a time of day as HH:MM, 00:00 to 23:59"

// clock reads a time of day, kept as it is written.
func (d *Decoder) clock() string { return d.formed(clockWanted, isClock) }

// formed reads a text that has a form.
func (d *Decoder) formed(want string, hasForm func([]byte) bool) string {
	text, ok := d.in.Text(want)
	if ok && !hasForm(text) {
		d.in.ReportHere(jsonio.Quote(string(text)), want)
		return ""
	}
	return string(text)
}

func isClock(text []byte) bool {
	if len(text) != len("07:30") || text[2] != ':' {
		return false
	}
	hour, ok1 := parseDigits(text[:2])
	minute, ok2 := parseDigits(text[3:])
	return ok1 && ok2 && hour < 24 && minute < 60
}

const (
	longestName = 80   // characters, assumption: fits a line of a terminal
	longestNote = 4000 // characters, assumption: a page and a half

	aText       = "a text of "
	labelWanted = "1 to 80 characters, no control characters, no blanks at the ends"
	noteWanted  = "at most 4000 characters, no control characters but newline and tab"
)

// label reads a name, an id or a station. It is good until the next reading.
func (d *Decoder) label() []byte { return d.free(aText+labelWanted, labelWanted, faultOfLabel) }

func (d *Decoder) note() string { return string(d.free(aText+noteWanted, noteWanted, faultOfNote)) }

// free reads a text in the keeper's own words, whole being what is wanted where none stands; nil
// after a fault.
func (d *Decoder) free(whole, want string, faultOf func([]byte) string) []byte {
	text, ok := d.in.Text(whole)
	if !ok {
		return nil
	}
	if found := faultOf(text); found != "" {
		d.in.ReportHere(found, want)
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
		return jsonio.Quote(string(text))
	case unicode.IsSpace(first) || unicode.IsSpace(last):
		return jsonio.Quote(string(text))
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
