package table

import (
	"io"

	"github.com/olekukonko/tablewriter/tw"

	"panecore/palette"
	"panecore/reports/words"
)

// An OwnPrototype is a colour that the keeper knows the meaning of.
type OwnPrototype struct {
	Tank   string // empty: it holds for every tank
	Name   string
	Band   palette.Band
	Color  palette.Color
	Spread float64 // CIEDE2000 units
}

// WriteOwnBands lists the keeper's own colours in the order given, with a blank line
// behind them, or writes nothing where there are none. Its errors are those of w.
func WriteOwnBands(w io.Writer, own []OwnPrototype, o Options) error {
	if len(own) == 0 {
		return nil
	}
	p := newPage(o)
	g := grid{
		head:  []string{"your own", "band", "colour", "spread", "tank"},
		align: []tw.Align{tw.AlignLeft, tw.AlignLeft, tw.AlignLeft, tw.AlignRight, tw.AlignLeft},
		gaps:  []string{"  ", "  ", "  ", "  ", ""},
		text:  4,
	}
	for _, t := range own {
		tank := t.Tank
		if tank == "" {
			tank = "every"
		}
		g.rows = append(g.rows, []string{p.plain(t.Name), t.Band.String(), p.swatch(t.Color) + t.Color.String(), words.Number(t.Spread, 1), tank})
	}
	if err := p.grid(g); err != nil {
		return err
	}
	p.line()
	_, err := io.WriteString(w, p.String())
	return err
}
