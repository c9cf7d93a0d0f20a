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

func (v field) hint(words string) field    { v.Hint = words; return v }
func (v field) kind(kind string) field     { v.Kind = kind; return v }
func (v field) keys(mode string) field     { v.Mode = mode; return v }
func (v field) wanted() field              { v.Wanted = true; return v }
func (v field) exact() field               { v.Exact = true; return v }
func (v field) offering(o []option) field  { v.Options = o; return v }
func (v field) upTo(day layers.Date) field { v.Kind, v.Most = "date", day.String(); return v }

// decimal makes a field one of numbers in a unit, which stays with the last word of its label.
func (v field) decimal(unit string) field {
	v.Mode = "decimal"
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
	return v.choosing([]option{{Value: "", Label: "not told"}, {Value: "yes", Label: "yes"}, {Value: "no", Label: "no"}})
}

// spelt are words of a list as they are read, the first option being none of them.
func spelt[Word ~string](none string, list []Word) []option {
	options := []option{{Value: "", Label: none}}
	for _, word := range list {
		options = append(options, option{Value: string(word), Label: words.Spaced(word)})
	}
	return options
}

// lengthText is a length as a field holds it: bare where the unit stands beside.
func lengthText(u layers.Units, mm float64) string {
	if mm == 0 {
		return ""
	}
	return words.OnRuler(u, mm)
}
