package web

import (
	"html/template"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// spelling are the words that templates use.
func spelling(u layers.Units) template.FuncMap {
	return template.FuncMap{
		"action":     words.Action,
		"confidence": words.Confidence,
		"draws":      words.Draws,
		"tankName":   words.TankName,
		"address":    addressOf,
		"length": func(e *reports.Estimate) string {
			if e == nil {
				return "not known"
			}
			return words.Length(u).Estimate(*e)
		},
	}
}
