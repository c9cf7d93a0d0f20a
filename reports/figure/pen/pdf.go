package pen

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// WritePDF writes the figure as a PDF of one page of its own size. Its errors are those of w
// and of the PDF library.
func (f *Figure) WritePDF(w io.Writer) error {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: f.Width, Ht: f.Height}})
	doc.SetCatalogSort(true) // this and the fixed dates give the same bytes for the same figure
	doc.SetCreationDate(time.Unix(0, 0).UTC())
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	doc.SetTitle(inPDF(printable(f.Title)), true)
	doc.SetSubject(inPDF(printable(f.Desc)), true)
	doc.SetLang("en")
	doc.AddUTF8FontFromBytes(pdfFont, "", goregular.TTF)
	doc.AddUTF8FontFromBytes(pdfFont, "B", gobold.TTF)
	doc.SetAutoPageBreak(false, 0)
	doc.SetMargins(0, 0, 0)
	doc.SetLineJoinStyle("round")
	doc.AddPage()
	f.Play(&pdfPen{doc: doc, alpha: 1})
	if err := doc.Output(w); err != nil {
		return fmt.Errorf("PDF: %w", err)
	}
	return nil
}

const pdfFont = "go"

// inPDF replaces letters beyond U+FFFF, which the PDF library can't write. The built-in fonts
// have none of them.
func inPDF(text string) string {
	return strings.Map(func(r rune) rune {
		if r > '\uffff' {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// pdfPen draws marks on a page.
type pdfPen struct {
	doc   *fpdf.Fpdf
	alpha float64 // as last set

	widest int // of the rasters so far, pixels
}

func (p *pdfPen) filled(ink Ink) {
	p.doc.SetFillColor(int(ink.Color.R), int(ink.Color.G), int(ink.Color.B))
	p.opaque(ink.Alpha)
}

// opaque sets the opacity only where it changes: each setting takes room in the file.
func (p *pdfPen) opaque(alpha float64) {
	if alpha != p.alpha {
		p.doc.SetAlpha(alpha, "Normal")
		p.alpha = alpha
	}
}

func (p *pdfPen) stroked(ink Ink, width float64) {
	p.doc.SetDrawColor(int(ink.Color.R), int(ink.Color.G), int(ink.Color.B))
	p.opaque(ink.Alpha)
	p.doc.SetLineWidth(width)
}

func (p *pdfPen) Area(outline []Point, ink Ink) {
	p.filled(ink)
	p.path(outline)
	p.doc.ClosePath()
	p.doc.DrawPath("F")
}

func (p *pdfPen) path(points []Point) {
	for i, at := range points {
		if i == 0 {
			p.doc.MoveTo(at.X, at.Y)
		} else {
			p.doc.LineTo(at.X, at.Y)
		}
	}
}

func (p *pdfPen) Rect(x, y, w, h float64, ink Ink) {
	p.filled(ink)
	p.doc.Rect(x, y, w, h, "F")
}

func (p *pdfPen) Lines(parts [][]Point, s Stroke) {
	p.stroked(s.Ink, s.Width)
	if s.Dash > 0 {
		p.doc.SetDashPattern([]float64{s.Dash, s.Gap}, 0)
		defer p.doc.SetDashPattern(nil, 0)
	}
	for _, points := range parts {
		p.path(points)
	}
	p.doc.DrawPath("D")
}

func (p *pdfPen) Dots(centres []Point, radius float64, ink Ink) {
	p.stroked(ink, 2*radius)
	p.doc.SetLineCapStyle("round") // lines without length take less room than circles
	defer p.doc.SetLineCapStyle("butt")
	for _, at := range centres {
		p.doc.MoveTo(at.X, at.Y)
		p.doc.LineTo(at.X, at.Y)
	}
	p.doc.DrawPath("D")
}

// Raster draws what has pixels of its own; an address can't be drawn.
func (p *pdfPen) Raster(x, y, w, h float64, r Raster) {
	if r.Image == nil {
		return
	}
	shown := part{r.Image, cropped(r.Image.Bounds(), w, h), 0}
	width := shown.bounds.Dx()
	p.widest = max(p.widest+1, width) // the library writes pictures in the order of their widths, those of one width in any
	shown.more = p.widest - width
	file := shown.packed()
	sum, how := sha256.Sum256(file), fpdf.ImageOptions{ImageType: "JPG"}
	name := hex.EncodeToString(sum[:])
	p.opaque(1)
	p.doc.RegisterImageOptionsReader(name, how, bytes.NewReader(file))
	p.doc.ClipRect(x, y, w, h, false)
	p.doc.ImageOptions(name, x, y, w*float64(p.widest)/float64(width), h, false, how, 0, "")
	p.doc.ClipEnd()
}

func (p *pdfPen) Text(at Point, text string, t Lettering) {
	style := ""
	if t.Bold {
		style = "B"
	}
	p.doc.SetFont(pdfFont, style, t.Size*pointsPerMM)
	p.doc.SetTextColor(int(t.Ink.Color.R), int(t.Ink.Color.G), int(t.Ink.Color.B))
	p.opaque(t.Ink.Alpha)
	text = inPDF(text)
	switch width := p.doc.GetStringWidth(text); t.Anchor {
	case Centred:
		at.X -= width / 2
	case UpToHere:
		at.X -= width
	}
	p.doc.Text(at.X, at.Y, text)
}

// pointsPerMM follows from the point of PDF, 1/72 inch.
const pointsPerMM = 72 / 25.4

func (p *pdfPen) Open(string) {}
func (p *pdfPen) Shut()       {}
