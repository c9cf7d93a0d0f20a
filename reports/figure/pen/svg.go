package pen

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"io"
	"math"
	"strconv"
)

// WriteSVG writes the figure as an SVG file of its own size, on white. Its errors are those
// of w.
func (f *Figure) WriteSVG(w io.Writer) error {
	return f.WriteStyledSVG(w, "")
}

// WriteStyledSVG is WriteSVG with a style sheet, which may recolour the inks of roles as for [Figure.Inline].
func (f *Figure) WriteStyledSVG(w io.Writer, style string) error {
	_, err := w.Write(f.svg(true, style))
	return err
}

// Inline is the figure as an svg element for an HTML page. Marks in the inks of roles have
// the class f-ROLE if filled and s-ROLE if drawn as lines, so that a style sheet can recolour
// them.
func (f *Figure) Inline() string { return string(f.svg(false, "")) }

func (f *Figure) svg(alone bool, style string) []byte {
	p := &svgPen{}
	p.raw(`<svg xmlns="http://www.w3.org/2000/svg"`)
	if alone {
		p.num(` width="`, f.Width).num(`mm" height="`, f.Height).raw(`mm"`)
	}
	p.num(` viewBox="0 0 `, f.Width).num(` `, f.Height).raw(`" role="img" font-family="`, fontFamily, `">`)
	p.raw("<title>").escaped(printable(f.Title)).raw("</title><desc>").escaped(printable(f.Desc)).raw("</desc>\n")
	if style != "" {
		p.raw("<style>").escaped(style).raw("</style>\n")
	}
	if alone {
		p.Rect(0, 0, f.Width, f.Height, InkPaper)
	}
	f.Play(p)
	p.raw("</svg>\n")
	return p.buf.Bytes()
}

// fontFamily names the font that widths are measured with, then common ones that are no
// wider.
const fontFamily = "Go, Arial, Helvetica, Liberation Sans, sans-serif"

// svgPen writes marks as SVG elements.
type svgPen struct{ buf bytes.Buffer }

func (p *svgPen) raw(parts ...string) *svgPen {
	for _, s := range parts {
		p.buf.WriteString(s)
	}
	return p
}

// num writes a number to two decimals, without trailing zeros.
func (p *svgPen) num(before string, x float64) *svgPen {
	p.buf.WriteString(before)
	p.buf.Write(strconv.AppendFloat(p.buf.AvailableBuffer(), math.Round(x*100)/100+0, 'f', -1, 64)) // + 0: no −0
	return p
}

func (p *svgPen) escaped(text string) *svgPen {
	xml.EscapeText(&p.buf, []byte(text)) // writing to a buffer can't fail
	return p
}

// filled writes the attributes of an element that is filled.
func (p *svgPen) filled(ink Ink) *svgPen {
	return p.inked(ink, ` class="f-`, ` fill="`, ` fill-opacity="`)
}

// stroked writes those of one drawn as a line.
func (p *svgPen) stroked(ink Ink) *svgPen {
	return p.inked(ink, ` class="s-`, ` fill="none" stroke="`, ` stroke-opacity="`)
}

func (p *svgPen) inked(ink Ink, class, color, opacity string) *svgPen {
	if ink.Role != "" {
		p.raw(class, ink.Role, `"`)
	}
	p.raw(color, ink.Color.String(), `"`)
	if ink.Alpha < 1 {
		p.num(opacity, ink.Alpha).raw(`"`)
	}
	return p
}

func (p *svgPen) path(points []Point) {
	for i, at := range points {
		command := "L"
		if i == 0 {
			command = "M"
		}
		p.num(command, at.X).num(" ", at.Y)
	}
}

func (p *svgPen) Area(outline []Point, ink Ink) {
	p.raw(`<path d="`)
	p.path(outline)
	p.raw(`Z"`).filled(ink).raw("/>\n")
}

func (p *svgPen) Rect(x, y, w, h float64, ink Ink) {
	p.num(`<rect x="`, x).num(`" y="`, y).num(`" width="`, w).num(`" height="`, h).raw(`"`).filled(ink).raw("/>\n")
}

func (p *svgPen) Lines(parts [][]Point, s Stroke) {
	p.raw(`<path d="`)
	for _, points := range parts {
		p.path(points)
	}
	p.raw(`"`).stroked(s.Ink).num(` stroke-width="`, s.Width).raw(`" stroke-linejoin="round"`)
	if s.Dash > 0 {
		p.num(` stroke-dasharray="`, s.Dash).num(` `, s.Gap).raw(`"`)
	}
	p.raw("/>\n")
}

// Dots draws lines without length and with round ends, all in one element.
func (p *svgPen) Dots(centres []Point, radius float64, ink Ink) {
	p.raw(`<path d="`)
	for _, at := range centres {
		p.num("M", at.X).num(" ", at.Y).raw("h0")
	}
	p.raw(`"`).stroked(ink).num(` stroke-width="`, 2*radius).raw(`" stroke-linecap="round"/>`, "\n")
}

func (p *svgPen) Raster(x, y, w, h float64, r Raster) {
	p.num(`<image x="`, x).num(`" y="`, y).num(`" width="`, w).num(`" height="`, h).raw(`" preserveAspectRatio="xMidYMid slice" href="`)
	if r.Image != nil {
		p.raw("data:image/jpeg;base64,", base64.StdEncoding.EncodeToString(r.packed(w, h)))
	} else {
		p.escaped(r.Address)
	}
	p.raw(`"/>`, "\n")
}

func (p *svgPen) Text(at Point, text string, t Lettering) {
	p.num(`<text x="`, at.X).num(`" y="`, at.Y).num(`" font-size="`, t.Size).raw(`"`)
	if t.Bold {
		p.raw(` font-weight="bold"`)
	}
	switch t.Anchor {
	case Centred:
		p.raw(` text-anchor="middle"`)
	case UpToHere:
		p.raw(` text-anchor="end"`)
	}
	p.filled(t.Ink).raw(">").escaped(text).raw("</text>\n")
}

func (p *svgPen) Open(about string) {
	p.raw("<g>")
	if about != "" {
		p.raw("<title>").escaped(about).raw("</title>")
	}
	p.raw("\n")
}

func (p *svgPen) Shut() { p.raw("</g>\n") }
