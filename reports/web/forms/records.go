package forms

import (
	"errors"
	"net/http"
	"net/url"
	"panecore/layers"
	"panecore/reports/web/site"
	"slices"
)

// Records are a list of what a keeper entered, and the form for more.
type Records struct {
	Rows site.Folded[recordRow]
	Form *Form
	Add  []field

	What   string // one of them, in words
	To     string // the address that the form goes to
	Anchor string // the list's part of the page
}

// recordRow is an entry in words; Mark says which it is when it is to be removed.
type recordRow struct {
	Head, Text string
	Over       []string // limits that are passed
	Note       string
	Mark       string
}

// entryForm is the form for another entry, of today where nothing was typed; f may be nil.
func entryForm(f *Form, today layers.Date) *Form {
	if f == nil {
		f = newForm(nil)
	}
	if len(f.typed) == 0 {
		f.typed = url.Values{"date": {today.String()}}
	}
	return f
}

// entryMark tells an entry, which in finds in a tank, from all that are not wholly equal.
func entryMark[R any](in func(*layers.Tank) *[]R, entry R) string {
	var tank layers.Tank
	*in(&tank) = []R{entry}
	return site.Fingerprint(tank)
}

// removeEntry removes the entry that a request's mark stands for; gone says that it is not there.
func removeEntry[R any](s *Room, w http.ResponseWriter, r *http.Request, in func(*layers.Tank) *[]R, gone string, remove func(id string, entry R) (what string, err error)) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	list := *in(&tank)
	i := slices.IndexFunc(list, func(entry R) bool { return entryMark(in, entry) == r.PostFormValue("seen") })
	if i < 0 {
		return site.WithKind(site.ErrMissing, errors.New(gone))
	}
	what, err := remove(r.PathValue("id"), list[i])
	if err != nil {
		return err
	}
	site.Say(w, r, site.TankAddress(r.PathValue("id")), "The "+what+" is removed.")
	return nil
}
