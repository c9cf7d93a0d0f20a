package table

import (
	"cmp"
	"io"
	"strings"

	"panecore/layers"
)

// WriteWater lists water tests in the order given. Its errors are those of w.
func WriteWater(w io.Writer, tests []layers.WaterTest, o Options) error {
	p := newPage(o)
	if len(tests) == 0 {
		p.line("no water tests of this tank")
		return p.write(w)
	}
	p.gridOrLabels(fieldGrid(p, tests, layers.WaterFields()))
	p.line()
	var legend []string
	for _, f := range layers.WaterFields() {
		if f.Legend != "" {
			legend = append(legend, f.Head+": "+f.Legend)
		}
	}
	p.text(gridIndent, strings.Join(legend, "; "))
	return p.write(w)
}

// fieldGrid has a column for each field that has a head, numbers to the right.
func fieldGrid[R any](p *page, records []R, fields []layers.Field[R]) (g grid) {
	for _, f := range fields {
		c := left(p.plain(f.Head))
		switch f.Input {
		case layers.InputNumber:
			c = right(c.head)
		case layers.InputNote:
			g.text = len(g.columns)
		}
		g.columns = append(g.columns, c)
	}
	for _, r := range records {
		var row []string
		for _, f := range fields {
			text := f.Text(&r, p.Units)
			if f.Input != layers.InputNote {
				text = cmp.Or(text, p.missing)
			}
			row = append(row, text)
		}
		g.rows = append(g.rows, row)
	}
	return g
}

// WriteEvents lists events in the order given. Its errors are those of w.
func WriteEvents(w io.Writer, events []layers.Event, o Options) error {
	p := newPage(o)
	p.listed("no events of this tank", fieldGrid(p, events, layers.EventFields()))
	return p.write(w)
}
