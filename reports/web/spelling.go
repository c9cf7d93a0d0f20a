package web

import (
	"html/template"
	"regexp"
	"strings"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/words"
)

// unbroken is a blank at which no line ends.
const unbroken = "\u00a0"

// measured finds a number before its unit, as package page does in the report.
var measured = regexp.MustCompile(`\d (?:%|°[CF]|mg N/L|(?:mm|in|mg|L)\b)`)

// tied keeps the numbers of a text on a line with their units.
func tied(text string) string {
	return measured.ReplaceAllStringFunc(text, func(found string) string { return strings.ReplaceAll(found, " ", unbroken) })
}

// spelling are the words that templates use.
func spelling(u layers.Units) template.FuncMap {
	return template.FuncMap{
		"bands":       palette.Bands,
		"bandSeen":    palette.Band.Looks,
		"headline":    words.Headline,
		"howClear":    words.HowClear,
		"clarity":     words.Clarity,
		"seen":        words.Seen,
		"nextReading": func(a reports.Advice) string { return words.NextReading(a, true) },
		"aboutDraws":  func() string { return words.AboutDraws },
		"aboutOxic":   func() string { return words.AboutOxic },
		"draws":       words.Draws,
		"mark":        words.Mark,
		"others":      words.OtherActions,
		"tankName":    words.TankName,
		"ago":         func(days *int) string { return words.DaysAgo(*days) },
		"address":     addressOf,
		"join":        strings.Join,
		"parted":      strings.Fields,
		"pair":        func(of any, proof string) withProof { return withProof{of, proof} },
		"entries":     newEntries,
		"under":       func(row recordRow, at entries) recordIn { return recordIn{row, at} },
		"tied":        tied,
		"length":      known(words.Length(u)),
		"rate":        known(words.Rate(u)),
		"oxygen":      known(words.Oxygen()),
	}
}

// known writes estimates in a measure, as far as they could be made.
func known(m words.Measure) func(*reports.Estimate) string {
	return func(e *reports.Estimate) string {
		if e == nil {
			return "not known"
		}
		return tied(m.Estimate(*e))
	}
}

// withProof is a row of a list with what its forms carry.
type withProof struct {
	Of    any
	Proof string
}

// entries is a list of records with what its forms need.
type entries struct {
	Records      records
	Here, Of     string // the tank's address, and what stands behind it
	What, Anchor string
	Proof        string
}

func newEntries(r records, here, of, what, proof string) entries {
	anchor := of
	if of == "event" {
		anchor = "events"
	}
	return entries{r, here, of, what, anchor, proof}
}

// recordIn is a row of such a list.
type recordIn struct {
	Row recordRow
	At  entries
}
