package table

import (
	"fmt"
	"io"

	"github.com/olekukonko/tablewriter/tw"

	"panecore/reports"
)

// WriteRehearsal draws what a stir or a siphoning would do. Its errors are those of w.
func WriteRehearsal(w io.Writer, r reports.Rehearsal, o Options) error {
	p := newPage(o)
	p.text(0, titled(tankName(r.ID, r.Name), r.AsOf))
	p.line()
	p.text(0, p.rehearsalVerdict(r))
	p.line()
	if err := p.gridOrLabels(p.rehearsed(r)); err != nil {
		return err
	}
	p.heading("The largest share of the floor")
	p.text(2, "that stays within every limit in 95 of 100 draws:")
	if err := p.gridOrLabels(p.largestShares(r)); err != nil {
		return err
	}
	var doubt []string
	for _, d := range r.Doubt {
		doubt = append(doubt, fmt.Sprintf("%s (rank correlation with that share %s)", d.Input, p.signed(d.Correlation, 2)))
	}
	p.section("What carries the doubt", doubt)
	p.section("The safe way", r.Steps)
	p.section("Cautions", r.Cautions)
	p.section("Notices", r.Notices)
	_, err := io.WriteString(w, p.String())
	return err
}

// rehearsalVerdict is the rehearsal in a sentence or two.
func (p *page) rehearsalVerdict(r reports.Rehearsal) string {
	deed := fmt.Sprintf("to %s %.0f %% of the floor down to %s %s", r.Method, 100*r.Share, onRuler(p.Units, r.DepthMM), p.Units)
	switch {
	case r.Within >= 0.95:
		return fmt.Sprintf("It can be done: %s stays within every limit in %s.", deed, draws(r.Within))
	case r.Within > 0:
		deed = fmt.Sprintf("Don't: %s stays within every limit in only %s; 95 are wanted.", deed, draws(r.Within))
	default:
		deed = fmt.Sprintf("Don't: %s stays within every limit in none of the draws.", deed)
	}
	for _, l := range r.Largest {
		if l.Method == r.Method && l.DepthMM == r.DepthMM && l.Aerated > l.Share {
			deed += fmt.Sprintf(" With an air stone running, %s %% would.", number(100*l.Aerated, 0))
		}
	}
	return deed
}

// rehearsed is the table of the numbers beside their limits.
func (p *page) rehearsed(r reports.Rehearsal) grid {
	g := grid{
		head:  []string{"afterwards", "value", "", "90 % range", "limit", "kept"},
		align: []tw.Align{tw.AlignLeft, tw.AlignRight, tw.AlignLeft, tw.AlignRight, tw.AlignRight, tw.AlignRight},
		gaps:  []string{"  ", " ", "  ", "  ", "  ", ""},
		text:  0,
	}
	for _, n := range r.Numbers {
		m := measure{n.Unit, 1, leading}
		if n.Unit == oxygen().unit {
			m = oxygen()
		}
		row := append(p.plainNumber(n.Name, n.After, m), "", "")
		if n.Limit != nil {
			row[4] = number(*n.Limit, m.decimals(*n.Limit, 0))
		}
		if n.Within != nil {
			row[5] = fmt.Sprintf("%d %%", hundred(*n.Within))
		}
		g.rows = append(g.rows, row)
	}
	return g
}

func (p *page) largestShares(r reports.Rehearsal) grid {
	g := grid{
		head:  []string{"", "down to", "as it is", "with an air stone"},
		align: []tw.Align{tw.AlignLeft, tw.AlignRight, tw.AlignRight, tw.AlignRight},
		gaps:  []string{"  ", "  ", "  ", ""},
		text:  0,
	}
	share := func(x float64) string { return number(100*x, 0) + " %" }
	for _, l := range r.Largest {
		g.rows = append(g.rows, []string{string(l.Method), onRuler(p.Units, l.DepthMM) + " " + p.Units.String(), share(l.Share), share(l.Aerated)})
	}
	return g
}
