package table

import (
	"fmt"
	"io"

	"panecore/reports"
	"panecore/reports/words"
)

// WriteRehearsal draws what a stir or a siphoning would do. Its errors are those of w.
func WriteRehearsal(w io.Writer, r reports.Rehearsal, o Options) error {
	p := newPage(o)
	p.text(0, words.Judged(words.TankName(r.ID, r.Name), r.AsOf))
	p.line()
	p.text(0, words.RehearsalVerdict(r, p.Units))
	p.line()
	p.gridOrLabels(p.rehearsed(r))
	p.heading("The largest share of the floor")
	p.text(2, "that stays within every limit in 95 of 100 draws:")
	p.gridOrLabels(p.largestShares(r))
	p.section("Where the doubt comes from", words.Doubts(r))
	p.section("Step by step", r.Steps)
	p.section("What helps instead", r.Instead)
	p.section("Cautions", r.Cautions)
	p.section("Notices", r.Notices)
	return p.write(w)
}

// rehearsed is the table of the numbers beside their limits.
func (p *page) rehearsed(r reports.Rehearsal) grid {
	g := grid{columns: []column{left("afterwards"), right("value").near(), left(""), right("90 % range"), right("limit"), right("kept")}}
	for _, n := range r.Numbers {
		m := words.Rehearsed(n)
		row := append(p.plainNumber(n.Name, n.After, m), "", "")
		if n.Limit != nil {
			row[4] = p.plain(m.Plain(*n.Limit))
		}
		if n.Within != nil {
			row[5] = fmt.Sprintf("%d %%", words.Hundred(*n.Within))
		}
		g.rows = append(g.rows, row)
	}
	return g
}

func (p *page) largestShares(r reports.Rehearsal) grid {
	g := grid{columns: []column{left(""), right("down to"), right("as it is"), right("with an air stone")}}
	for _, l := range r.Largest {
		g.rows = append(g.rows, []string{string(l.Method), words.Depth(p.Units, l.DepthMM), words.AtMost(l.Share), words.AtMost(l.Aerated)})
	}
	return g
}
