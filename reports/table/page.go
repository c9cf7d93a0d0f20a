package table

import (
	"io"
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"

	"panecore/reports/words"
)

// The widths a report is set in, columns of a terminal.
const (
	minWidth = 40  // below it the column and its words have no room beside each other
	maxWidth = 100 // assumption: longer lines are hard to read
)

// gutterWidth holds the longest of the words that stand before the advice, and a space.
const gutterWidth = len("against ")

// signs are the few marks that are not letters or digits.
type signs struct {
	missing, bullet         string
	tick, side, left, floor string
	right, mark             string
}

func signsFor(ascii bool) signs {
	if ascii {
		return signs{"-", "*", "+", "|", "+", "-", "+", "<"}
	}
	return signs{"—", "•", "┤", "│", "└", "─", "┘", "◄"}
}

// page gathers a report's lines; none is wider than width.
type page struct {
	strings.Builder
	Options
	signs
	width    int
	failed   error             // of a table that could not be drawn
	spelling *strings.Replacer // of signs beyond ASCII
}

func newPage(o Options) *page {
	return &page{
		Options: o, signs: signsFor(o.ASCII), spelling: asciiSpelling(),
		width: min(max(o.Width, minWidth), maxWidth),
	}
}

// write writes the page, or nothing if a table could not be drawn.
func (p *page) write(w io.Writer) error {
	if p.failed != nil {
		return p.failed
	}
	_, err := io.WriteString(w, p.String())
	return err
}

// line writes one line as it stands, without spaces at its end.
func (p *page) line(parts ...string) {
	p.WriteString(strings.TrimRight(strings.Join(parts, ""), " "))
	p.WriteByte('\n')
}

// text writes a wrapped paragraph.
func (p *page) text(indent int, text string) { p.item(indent, "", text) }

// item writes a wrapped paragraph behind a lead-in, under which it hangs.
func (p *page) item(indent int, lead, text string) {
	margin := strings.Repeat(" ", indent)
	hang := strings.Repeat(" ", ansi.StringWidth(lead))
	for _, line := range fill(p.words(text), " ", p.width-len(margin)-len(hang)) {
		p.line(margin, lead, line)
		lead = hang
	}
}

// list writes items with bullets, the first behind a label in the gutter.
func (p *page) list(label string, items []string) {
	for _, text := range items {
		p.item(0, pad(label, gutterWidth)+" "+p.bullet+" ", text)
		label = ""
	}
}

// section writes a heading and a bulleted list, or nothing for an empty list.
func (p *page) section(heading string, items []string) {
	if len(items) == 0 {
		return
	}
	p.heading(heading)
	for _, text := range items {
		p.item(2, p.bullet+" ", text)
	}
}

func (p *page) heading(text string) {
	p.line()
	p.line(text)
}

// words splits a text at its spaces, cleaned of what a terminal would act on.
func (p *page) words(text string) []string {
	text = strings.Map(words.Printable, ansi.Strip(strings.ToValidUTF8(text, "?")))
	if p.ASCII {
		text = strings.Map(asciiOnly, p.spelling.Replace(text))
	}
	return strings.Fields(text)
}

// plain is a text on one line, cleaned as words does.
func (p *page) plain(text string) string { return strings.Join(p.words(text), " ") }

// asciiOnly puts '?' for a character beyond ASCII.
func asciiOnly(r rune) rune {
	if r > unicode.MaxASCII {
		return '?'
	}
	return r
}

// asciiSpelling spells the typographic signs that reports use.
func asciiSpelling() *strings.Replacer {
	return strings.NewReplacer(
		"–", "-", "—", "-", "−", "-", "‑", "-", "‘", "'", "’", "'", "“", `"`, "”", `"`, "…", "...",
		"•", "*", "·", "*", "×", "x", "±", "+/-", "≤", "<=", "≥", ">=", "≈", "about ", "→", "->",
		"°", " deg ", "µ", "u", "μ", "u", "Δ", "d", "½", "1/2", "¼", "1/4", "¾", "3/4",
		"²", "2", "³", "3", "₂", "2", "₃", "3", "₄", "4", "\u00a0", " ", "\u202f", " ", "\u2009", " ")
}

// fill sets words into lines of at most width columns with gap between them. A
// word longer than a line is broken.
func fill(list []string, gap string, width int) []string {
	var parts []string
	for _, word := range list {
		for ansi.StringWidth(word) > width {
			part := ansi.Truncate(word, width, "")
			parts, word = append(parts, part), word[len(part):]
		}
		parts = append(parts, word)
	}
	return words.Wrap(parts, gap, func(line string) bool { return ansi.StringWidth(line) <= width })
}

// pad adds spaces behind s up to width columns.
func pad(s string, width int) string { return s + spaces(width-ansi.StringWidth(s)) }

// padLeft adds spaces before s up to width columns.
func padLeft(s string, width int) string { return spaces(width-ansi.StringWidth(s)) + s }

func spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }
