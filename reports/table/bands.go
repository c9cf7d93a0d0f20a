package table

import (
	"cmp"
	"io"

	"github.com/charmbracelet/x/ansi"
	"panecore/palette"
	"panecore/reports/words"
)

// WriteBands lists colour prototypes in the order given. Its errors are those of w.
func WriteBands(w io.Writer, prototypes []palette.Prototype, o Options) error {
	p := newPage(o)
	g := grid{columns: []column{left("band"), left("kind"), left("colour"), right("spread"), left("source")}, text: 4}
	for _, t := range prototypes {
		g.rows = append(g.rows, []string{
			t.Band.String(), p.plain(t.Kind), p.swatch(t.Color) + t.Color.String(), words.Number(t.Spread, 1), t.Source,
		})
	}
	p.grid(g)
	p.line()
	p.text(gridIndent, "spread: how far the band's colours lie from this one, root mean square, in CIEDE2000 units")
	return p.write(w)
}

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
		g.rows = append(g.rows, []string{
			p.plain(t.Name), t.Band.String(), p.swatch(t.Color) + t.Color.String(), words.Number(t.Spread, 1), cmp.Or(t.Tank, "every"),
		})
	}
	p.grid(g)
	p.line()
	return p.write(w)
}

// swatch is a patch of the colour and a space, or nothing where colours are off.
func (p *page) swatch(c palette.Color) string {
	if !p.Swatch {
		return ""
	}
	return paint(c, "    ") + " "
}

// paint sets text on a colour, in an ink that stands out from it.
func paint(c palette.Color, text string) string {
	return ansi.NewStyle().BackgroundColor(rgb(c)).ForegroundColor(rgb(ink(c))).Styled(text)
}

func rgb(c palette.Color) ansi.Color { return ansi.RGBColor{R: c.R, G: c.G, B: c.B} }

// ink is black on light colours and white on dark ones, mixed with the colour
// itself so that the patch still shows it (share of the mix: assumption).
func ink(c palette.Color) palette.Color {
	var end float64
	if c.Lab().L < 50 {
		end = 255
	}
	mix := func(channel uint8) uint8 { return uint8(0.35*float64(channel) + 0.65*end) }
	return palette.Color{R: mix(c.R), G: mix(c.G), B: mix(c.B)}
}
