package site

import (
	"html/template"
	"regexp"
	"strings"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// Unbroken is a blank at which no line ends.
const Unbroken = "\u00a0"

// measured finds a number before its unit, as package page does in the report.
var measured = regexp.MustCompile(`\d (?:%|°[CF]|mg N/L|(?:mm|in|mg|L)\b)`)

// Inline is a picture in a page. Package figure escapes every text.
func Inline(f *pen.Figure) template.HTML { return template.HTML(f.Inline()) }

// tied keeps the numbers of a text on a line with their units.
func tied(text string) string {
	return measured.ReplaceAllStringFunc(text, func(found string) string { return strings.ReplaceAll(found, " ", Unbroken) })
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
		"address":     TankAddress,
		"join":        strings.Join,
		"parted":      strings.Fields,
		"pair":        func(of, with any) pair { return pair{of, with} },
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

// pair is what a template is of, with what it needs beside.
type pair struct{ Of, With any }
