package table

import (
	"io"

	"panecore/reports"
	"panecore/reports/words"
)

// WriteLessons lists what a tank's photos taught in the order given, with a blank line behind it. Its errors are
// those of w.
func WriteLessons(w io.Writer, l reports.Lessons, o Options) error {
	p := newPage(o)
	if len(l.Colors) == 0 {
		p.text(gridIndent, "no photo of this tank has taught anything yet: name its layers")
		p.line()
		return p.write(w)
	}
	g := grid{columns: []column{left("learned"), left("colour"), right("spread"), left("photo of"), left("station")}, text: 4}
	for _, c := range l.Colors {
		g.rows = append(g.rows, []string{
			c.Band.String(), p.swatch(c.Hex) + c.Hex.String(), words.Number(c.Spread, 1), c.Date.String(), p.plain(c.Station),
		})
	}
	p.grid(g)
	p.line()
	for _, light := range l.Lights {
		p.text(gridIndent, words.LearnedLight(light))
	}
	if len(l.Lights) > 0 {
		p.line()
	}
	return p.write(w)
}
