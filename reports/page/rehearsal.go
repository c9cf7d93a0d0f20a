package page

import (
	"fmt"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/words"
)

// rehearsal is what a hand in the bed would do.
type rehearsal struct {
	Head, Verdict string
	Picture       picture
	Numbers       []afterwards
	Doubt         []string
	Steps         []string
	Instead       []string
}

// afterwards is a number of the water and its limit.
type afterwards struct {
	number
	Limit, Kept string // empty: it has no limit
}

// largest is the largest share of the floor for a deed.
type largest struct{ Deed, Share, Aerated string }

func newRehearsal(r reports.Rehearsal, u layers.Units) rehearsal {
	v := rehearsal{
		Head:    fmt.Sprintf("To %s %s of the floor, down to %s", r.Method, words.Percent(r.Share), words.Depth(u, r.DepthMM)),
		Picture: newPicture(figure.Rehearsal(r, u)),
		Verdict: words.RehearsalVerdict(r, u), Doubt: words.Doubts(r), Steps: r.Steps, Instead: r.Instead,
	}
	for _, n := range r.Numbers {
		m := words.Rehearsed(n)
		row := afterwards{number: newNumber(n.Name, n.After, m)}
		if n.Limit != nil {
			row.Limit = "at most " + m.Plain(*n.Limit)
			if n.Below {
				row.Limit = "at least " + m.Plain(*n.Limit)
			}
		}
		if n.Within != nil {
			row.Kept = words.Draws(*n.Within)
		}
		v.Numbers = append(v.Numbers, row)
	}
	return v
}

// limitSources says where the limits of rehearsals come from, a line for each source.
func limitSources(list []reports.Rehearsal) (lines []string) {
	var sources []string
	for _, r := range list {
		for _, n := range r.Numbers {
			if n.Source != "" && !slices.Contains(sources, n.Source) {
				sources = append(sources, n.Source)
				lines = append(lines, n.Name+": "+n.Source)
			}
		}
	}
	return lines
}

// newLargest joins the largest shares of several rehearsals, which overlap, into one table.
func newLargest(list []reports.Rehearsal, u layers.Units) (rows []largest) {
	for _, r := range list {
		for _, l := range r.Largest {
			row := largest{string(l.Method) + " down to " + words.Depth(u, l.DepthMM), words.AtMost(l.Share), words.AtMost(l.Aerated)}
			if !slices.Contains(rows, row) {
				rows = append(rows, row)
			}
		}
	}
	return rows
}
