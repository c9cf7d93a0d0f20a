package table

import (
	"io"

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
	g := grid{columns: []column{left("your own"), left("band"), left("colour"), right("spread"), left("tank")}, text: 4}
	for _, t := range own {
		tank := t.Tank
		if tank == "" {
			tank = "every"
		}
		g.rows = append(g.rows, []string{p.plain(t.Name), t.Band.String(), p.swatch(t.Color) + t.Color.String(), words.Number(t.Spread, 1), tank})
	}
	p.grid(g)
	p.line()
	return p.write(w)
}
