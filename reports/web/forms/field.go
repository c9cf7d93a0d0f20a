package forms

import (
	"strings"

	"panecore/layers"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

// field is a field of a form as it is shown.
type field struct {
	ID, Name, Label  string
	Hint             string // a few words below the label
	Kind             string // of an input; "select" and "area" are elements of their own
	Mode             string // which keys a phone shows
	Value, Complaint string
	Most             string // the last value that may be chosen; empty: any
	Options          []option
	Wanted           bool
	Exact            bool // a name as it is: no phone is to change its first letter
	Focus            bool // typing goes here when the form opens
}

// option is a value that may be chosen, or is offered.
type option struct {
	Value, Label string
	Chosen       bool
}

// field shows a field of a form. Its id begins with the form's own word, since a page may
// have several forms.
func (f *Form) field(of, name, label string) field {
	return field{ID: of + "-" + name, Name: name, Label: label, Kind: "text", Value: f.typed.Get(name), Complaint: f.complaints[name]}
}

// fieldOf shows a field of a record in a form of that record's.
func fieldOf[R any](f *Form, of string, r layers.Field[R], u layers.Units, today layers.Date) field {
	v := f.field(of, r.Key(), r.Label)
	switch r.Input {
	case layers.InputNote:
		v.Kind = "area"
	case layers.InputNumber:
		v = v.decimal(r.Unit(u))
	case layers.InputDate:
		v.Kind, v.Most = "date", today.String()
	case layers.InputClock:
		v.Kind = "time"
	case layers.InputChoice:
		none := "not known"
		if r.Needed {
			none = "choose"
		}
		v = v.choosing(spelt(none, r.Choices))
	case layers.InputAnswer:
		v = v.answering()
	}
	v.Wanted = r.Needed
	return v
}

// fieldsOf are the fields of a record that its form asks for.
func fieldsOf[R any](f *Form, of string, list []layers.Field[R], u layers.Units, today layers.Date) (fields []field) {
	for _, r := range list {
		fields = append(fields, fieldOf(f, of, r, u, today))
	}
	return fields
}

// readFields puts what was typed into the fields of a record.
func readFields[R any](f *Form, r *R, list []layers.Field[R], u layers.Units) {
	for _, field := range list {
		name := field.Key()
		switch text := f.text(name); {
		case text != "" || !field.Needed:
			f.complain(name, field.ParseIn(u, r, text))
		case field.Input == layers.InputDate:
			f.want(name, "a day")
		default:
			f.want(name, "one of the list")
		}
	}
}

// keyAt finds the form's name of the field that a path ends at, as in water[0].ph; empty: none.
func keyAt[R any](list []layers.Field[R]) func(path string) string {
	return func(path string) string {
		for _, field := range list {
			if strings.HasSuffix(path, "]."+field.Name) || path == field.Name {
				return field.Key()
			}
		}
		return ""
	}
}

func (v field) hint(words string) field    { v.Hint = words; return v }
func (v field) kind(kind string) field     { v.Kind = kind; return v }
func (v field) keys(mode string) field     { v.Mode = mode; return v }
func (v field) wanted() field              { v.Wanted = true; return v }
func (v field) focused(is bool) field      { v.Focus = is; return v }
func (v field) exact() field               { v.Exact = true; return v }
func (v field) offering(o []option) field  { v.Options = o; return v }
func (v field) upTo(day layers.Date) field { v.Kind, v.Most = "date", day.String(); return v }

// decimal makes a field one of numbers, perhaps in a unit, which stays with the last word of its label.
func (v field) decimal(unit string) field {
	v.Mode = "decimal"
	if unit == "" {
		return v
	}
	head, last := "", v.Label
	if i := strings.LastIndexByte(v.Label, ' '); i >= 0 {
		head, last = v.Label[:i+1], v.Label[i+1:]
	}
	v.Label = head + strings.ReplaceAll(last+", "+unit, " ", site.Unbroken)
	return v
}

// choosing makes a field one of a list's values.
func (v field) choosing(list []option) field {
	v.Kind, v.Options = "select", list
	for i := range v.Options {
		v.Options[i].Chosen = v.Options[i].Value == v.Value
	}
	return v
}

// answering makes a field a question that may be left open.
func (v field) answering() field {
	return v.choosing([]option{{Value: "", Label: "not known"}, {Value: "yes", Label: "yes"}, {Value: "no", Label: "no"}})
}

// spelt are words of a list as they are read, the first option being none of them.
func spelt[Word ~string](none string, list []Word) []option {
	options := []option{{Value: "", Label: none}}
	for _, word := range list {
		options = append(options, option{Value: string(word), Label: words.Spaced(word)})
	}
	return options
}

// lengthText is a length in a field, without the unit, which is in the label.
func lengthText(u layers.Units, mm float64) string {
	if mm == 0 {
		return ""
	}
	return words.OnRuler(u, mm)
}
