package forms

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports/web/site"
)

// Form is what was typed into a form and what is wrong with it.
type Form struct {
	typed      url.Values
	complaints map[string]string // by field
	rest       []string          // what is wrong with no field that it has
	status     int               // of the answer; 0: nothing is wrong
}

func postedForm(r *http.Request) (*Form, error) {
	if err := r.ParseForm(); err != nil {
		return nil, site.WithKind(site.ErrInput, err)
	}
	return newForm(r.PostForm), nil
}

func newForm(typed url.Values) *Form { return &Form{typed: typed, complaints: map[string]string{}} }

// text is what was typed into a field, without blanks around and with line ends as they
// are kept.
func (f *Form) text(name string) string { return tidy(f.typed.Get(name)) }

func tidy(typed string) string {
	return strings.TrimSpace(strings.ReplaceAll(typed, "\r\n", "\n"))
}

// complain notes what is wrong with a field. The first complaint stays.
func (f *Form) complain(name string, err error) {
	if _, noted := f.complaints[name]; err != nil && !noted {
		f.complaints[name] = complaintWords(err)
		f.status = http.StatusUnprocessableEntity
	}
}

// complaintWords are an error's words where its place is seen from where they stand.
func complaintWords(err error) string {
	var fault layers.Fault
	if errors.As(err, &fault) && fault.Where != "" {
		return "found " + fault.Found + ", want " + fault.Want
	}
	return err.Error()
}

// refuse takes an error of the store: the faults of a record beside the fields they are
// about, which fieldOf finds by their path ("ph" for "water[0].ph") and does not by "".
func (f *Form) refuse(err error, fieldOf func(path string) string) {
	if err == nil {
		return
	}
	status := site.StatusOf(err)
	var faults layers.Faults
	if !errors.As(err, &faults) {
		f.rest = append(f.rest, err.Error())
	}
	for _, fault := range faults {
		path := fault.Where[strings.LastIndex(fault.Where, " ")+1:]
		name := fieldOf(path)
		switch _, noted := f.complaints[name]; {
		case name == "":
			f.rest = append(f.rest, fault.Error())
		case !noted:
			f.complaints[name] = complaintWords(fault)
		}
	}
	f.status = max(f.status, status)
}

// conflict notes that the record is no longer what the form showed, and what saving again does.
func (f *Form) conflict(what, again string) {
	f.status = http.StatusConflict
	f.rest = append(f.rest, what+" elsewhere, in another window or by a command, since this form was opened. Nothing was saved, and what you typed is still here"+again)
}

// Failed reports whether anything is wrong.
func (f *Form) Failed() bool { return f.status != 0 }

// Complaints are what is wrong with fields, by their names.
func (f *Form) Complaints() map[string]string { return f.complaints }

// Wrong says how many things are to be mended; empty: nothing is.
func (f *Form) Wrong() string {
	switch n := len(f.complaints); {
	case n == 0:
		return ""
	case n == 1:
		return "Nothing was saved yet: one field needs correcting."
	default:
		return fmt.Sprintf("Nothing was saved yet: %d fields need correcting.", n)
	}
}

// Rest is what is wrong with no field.
func (f *Form) Rest() []string { return f.rest }

// read parses what was typed into a field; zero if nothing was.
func read[T any](f *Form, name string, parse func(string) (T, error)) (value T) {
	if text := f.text(name); text != "" {
		var err error
		value, err = parse(text)
		f.complain(name, err)
	}
	return value
}

// want notes a field as wanting where nothing was typed.
func (f *Form) want(name, what string) {
	if f.text(name) == "" {
		f.complain(name, errors.New("found nothing, want "+what))
	}
}

// inUnit reads lengths with parse. The form names a unit, which a bare number stands in.
func inUnit(u layers.Units, parse func(string) (float64, error)) func(string) (float64, error) {
	return func(text string) (float64, error) {
		if layers.IsBare(text) {
			text += u.String()
		}
		return parse(text)
	}
}

func chosen[Word ~string](list []Word) func(string) (Word, error) {
	return func(text string) (Word, error) {
		if !slices.Contains(list, Word(text)) {
			return "", fmt.Errorf("found %q, want one of the list", text)
		}
		return Word(text), nil
	}
}
