package table

import (
	"io"

	"panecore/reports"
	"panecore/reports/words"
)

// WriteOxygen draws the oxygen from the water surface into the bed. Its errors are those
// of w.
func WriteOxygen(w io.Writer, x reports.OxygenProfile, o Options) error {
	p := newPage(o)
	p.text(0, words.Judged(words.TankName(x.ID, x.Name), x.AsOf))
	p.line()
	p.text(0, words.OxygenVerdict(x))
	p.text(0, words.Saturation(x))
	p.line()
	g := numbersGrid()
	for _, point := range x.Points {
		where := "water, " + words.Depth(p.Units, point.DepthMM) + " down"
		if point.Where == "bed" {
			where = "bed, " + words.Depth(p.Units, point.DepthMM) + " deep"
		}
		g.rows = append(g.rows, p.plainNumber(where, point.Oxygen, words.Oxygen()))
	}
	g.rows = append(g.rows,
		p.plainNumber("oxygen ends in the bed at", x.Penetration, words.Length(p.Units)),
		p.plainNumber("water that holds oxygen", x.OxicWater, words.Length(p.Units)),
		p.plainNumber("least of the day, at "+words.Clock(x.Dawn.Hour), x.Dawn.Oxygen, words.Oxygen()),
		p.plainNumber("most of the day, at "+words.Clock(x.Dusk.Hour), x.Dusk.Oxygen, words.Oxygen()))
	p.grid(g)
	p.heading("What would help at the bottom")
	helps := numbersGrid()
	for _, h := range x.Helps {
		helps.rows = append(helps.rows, p.plainNumber(h.Name, h.Bottom, words.Oxygen()), p.plainNumber(h.Name+": gain", h.Gain, words.Oxygen()))
	}
	p.grid(helps)
	p.section("Notices", x.Notices)
	return p.write(w)
}

// plainNumber is number without its basis.
func (p *page) plainNumber(name string, e *reports.Estimate, m words.Measure) []string {
	if e == nil {
		return p.number(name, nil, m)
	}
	plain := *e
	plain.Basis = ""
	return p.number(name, &plain, m)
}
