package table

import (
	"io"
	"strings"

	"github.com/olekukonko/tablewriter/tw"

	"panecore/layers"
	"panecore/reports/words"
)

// WriteWater lists water tests in the order given. Its errors are those of w.
func WriteWater(w io.Writer, tests []layers.WaterTest, o Options) error {
	p := newPage(o)
	if len(tests) == 0 {
		p.line("no water tests of this tank")
	} else if err := p.water(tests); err != nil {
		return err
	}
	_, err := io.WriteString(w, p.String())
	return err
}

func (p *page) water(tests []layers.WaterTest) error {
	g := grid{
		head:  []string{"date", "time", "pH", p.plain("°C"), "ammonia", "oxygen"},
		align: []tw.Align{tw.AlignLeft, tw.AlignLeft, tw.AlignRight, tw.AlignRight, tw.AlignRight, tw.AlignRight},
		gaps:  []string{"  ", "  ", "  ", "  ", "  ", ""},
	}
	for _, t := range tests {
		g.rows = append(g.rows, []string{
			t.Date.String(), p.given(t.Time), p.measured(t.PH, 2), p.measured(t.TemperatureC, 1),
			p.measured(t.TotalAmmonia, 3), p.measured(t.OxygenMGPerL, 2),
		})
	}
	if err := p.gridOrLabels(g); err != nil {
		return err
	}
	p.line()
	p.text(gridIndent, "ammonia: total, mg N/L; oxygen: dissolved, mg/L")
	return nil
}

// given is a text, or the sign for none.
func (p *page) given(text string) string {
	if text == "" {
		return p.missing
	}
	return text
}

// measured is a number with so many decimals at most, or the sign for none.
func (p *page) measured(value *float64, decimals int) string {
	if value == nil {
		return p.missing
	}
	text := words.Number(*value, decimals)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// WriteEvents lists events in the order given. Its errors are those of w.
func WriteEvents(w io.Writer, events []layers.Event, o Options) error {
	p := newPage(o)
	if len(events) == 0 {
		p.line("no events of this tank")
	} else if err := p.grid(p.events(events)); err != nil {
		return err
	}
	_, err := io.WriteString(w, p.String())
	return err
}

func (p *page) events(events []layers.Event) grid {
	g := grid{
		head:  []string{"date", "event", "share", "depth", "note"},
		align: []tw.Align{tw.AlignLeft, tw.AlignLeft, tw.AlignRight, tw.AlignRight, tw.AlignLeft},
		gaps:  []string{"  ", "  ", "  ", "  ", ""},
		text:  4,
	}
	for _, e := range events {
		share, depth := p.missing, p.missing
		if e.Share != nil {
			percent := 100 * *e.Share
			share = p.measured(&percent, 1) + " %"
		}
		if e.DepthMM != nil {
			depth = p.Units.Length(*e.DepthMM)
		}
		g.rows = append(g.rows, []string{e.Date.String(), string(e.Kind), share, depth, e.Note})
	}
	return g
}
