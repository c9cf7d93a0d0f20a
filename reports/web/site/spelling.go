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

// Unbroken is a space at which no line breaks.
const Unbroken = "\u00a0"

// measured finds a number before its unit.
var measured = regexp.MustCompile(`\d (?:%|°[CF]|mg N/L|(?:mm|in|mg|L)\b)`)

// Inline is a picture for a page. Package pen escapes every text.
func Inline(f *pen.Figure) template.HTML { return template.HTML(f.Inline()) }

// tied keeps each number of a text on one line with its unit.
func tied(text string) string {
	return measured.ReplaceAllStringFunc(text, func(found string) string { return strings.ReplaceAll(found, " ", Unbroken) })
}

// spelling are the functions that templates use.
func spelling(u layers.Units) template.FuncMap {
	return template.FuncMap{
		"bands":       palette.Bands,
		"bandSeen":    palette.Band.Looks,
		"headline":    words.Headline,
		"howClear":    words.HowClear,
		"clarity":     words.Clarity,
		"seen":        words.Seen,
		"runaway":     words.Runaway,
		"watch":       words.Watch,
		"watchSigns":  words.WatchSigns,
		"frames":      func(surface, floor *reports.Estimate) string { return words.Frames(surface, floor, u) },
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

// known writes an estimate in a measure, or that it is not known.
func known(m words.Measure) func(*reports.Estimate) string {
	return func(e *reports.Estimate) string {
		if e == nil {
			return "not known"
		}
		return tied(m.Estimate(*e))
	}
}

// pair is what a template shows, with what else it needs.
type pair struct{ Of, With any }
