package web

import (
	"html/template"
	"strings"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/words"
)

// spelling are the words that templates use.
func spelling(u layers.Units) template.FuncMap {
	return template.FuncMap{
		"action":     words.Action,
		"bands":      palette.Bands,
		"bandSeen":   words.BandSeen,
		"confidence": words.Confidence,
		"draws":      words.Draws,
		"reasons":    reasonsOf,
		"others":     words.OtherActions,
		"tankName":   words.TankName,
		"ago":        func(days *int) string { return words.DaysAgo(*days) },
		"address":    addressOf,
		"join":       strings.Join,
		"parted":     strings.Fields,
		"pair":       func(of any, proof string) withProof { return withProof{of, proof} },
		"entries":    newEntries,
		"under":      func(row recordRow, at entries) recordIn { return recordIn{row, at} },
		"length": func(e *reports.Estimate) string {
			if e == nil {
				return "not known"
			}
			return words.Length(u).Estimate(*e)
		},
		"rate": func(e *reports.Estimate) string {
			if e == nil {
				return "not known"
			}
			return words.Rate(u).Estimate(*e)
		},
		"oxygen": func(e *reports.Estimate) string {
			if e == nil {
				return "not known"
			}
			return words.Oxygen().Estimate(*e)
		},
	}
}

// reasonsOf are reasons with where their rule comes from.
func reasonsOf(list []reports.Reason) (out []reason) {
	for i, line := range words.Reasons(list) {
		out = append(out, reason{list[i].Text, strings.TrimSpace(strings.TrimPrefix(line, list[i].Text))})
	}
	return out
}

// reason is what a rule says, and where the rule comes from.
type reason struct{ Text, Mark string }

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
