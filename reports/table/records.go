package table

import (
	"io"
	"strings"

	"github.com/olekukonko/tablewriter/tw"

	"panecore/layers"
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
	g := fieldGrid(p, tests, layers.WaterFields())
	if err := p.gridOrLabels(g); err != nil {
		return err
	}
	p.line()
	var legend []string
	for _, f := range layers.WaterFields() {
		if f.Legend != "" {
			legend = append(legend, f.Head+": "+f.Legend)
		}
	}
	p.text(gridIndent, strings.Join(legend, "; "))
	return nil
}

// fieldGrid has a column for each field that has a head, numbers to the right.
func fieldGrid[R any](p *page, records []R, fields []layers.Field[R]) (g grid) {
	for _, f := range fields {
		align := tw.AlignLeft
		switch f.Input {
		case layers.InputNumber:
			align = tw.AlignRight
		case layers.InputNote:
			g.text = len(g.head)
		}
		g.head, g.align, g.gaps = append(g.head, p.plain(f.Head)), append(g.align, align), append(g.gaps, "  ")
	}
	g.gaps[len(g.gaps)-1] = ""
	for _, r := range records {
		var row []string
		for _, f := range fields {
			text := f.Text(&r, p.Units)
			if f.Input != layers.InputNote {
				text = p.given(text)
			}
			row = append(row, text)
		}
		g.rows = append(g.rows, row)
	}
	return g
}

// given is a text, or the sign for none.
func (p *page) given(text string) string {
	if text == "" {
		return p.missing
	}
	return text
}

// WriteEvents lists events in the order given. Its errors are those of w.
func WriteEvents(w io.Writer, events []layers.Event, o Options) error {
	p := newPage(o)
	if len(events) == 0 {
		p.line("no events of this tank")
	} else if err := p.grid(fieldGrid(p, events, layers.EventFields())); err != nil {
		return err
	}
	_, err := io.WriteString(w, p.String())
	return err
}
