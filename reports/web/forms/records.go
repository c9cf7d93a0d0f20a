package forms

import "panecore/reports/web/site"

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
