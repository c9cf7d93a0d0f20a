package pen

import (
	"strings"

	"panecore/reports/words"
)

// Said is a line of text and how it is set.
type Said struct {
	Text string
	How  Lettering
}

// Height is the room that a line takes, mm.
func (s Said) Height() float64 { return Leading * s.How.Size }

// HeightOf is the height of stacked lines, mm.
func HeightOf(lines []Said) (sum float64) {
	for _, l := range lines {
		sum += l.Height()
	}
	return sum
}

// Stack sets lines below each other around a middle, each cut to a width.
func (f *Figure) Stack(x, middle, width float64, lines ...Said) {
	y := middle - HeightOf(lines)/2
	for _, l := range lines {
		// Letters reach further up than down: the line's middle is that of its capitals.
		f.Text(x, y+l.Height()/2+Capitals/2*l.How.Size, f.Fit(l.Text, width, l.How), l.How)
		y += l.Height()
	}
}

// Say sets lines below each other from a first baseline on and returns the baseline after
// the last.
func (f *Figure) Say(x, y float64, lines ...Said) float64 {
	for _, l := range lines {
		f.Text(x, y, l.Text, l.How)
		y += l.Height()
	}
	return y
}

// Paragraph sets a text in lines no wider than width, as Say does.
func (f *Figure) Paragraph(x, y, width float64, text string, t Lettering) float64 {
	return f.Say(x, y, f.Wrapped(text, width, t)...)
}

// Wrapped are the lines of a text, as Wrap has them.
func (f *Figure) Wrapped(text string, width float64, how Lettering) (lines []Said) {
	for _, line := range f.Wrap(text, width, how) {
		lines = append(lines, Said{line, how})
	}
	return lines
}

// Heading writes a name, of at most two lines, a second line about it and the answer, and
// returns where they end.
func (f *Figure) Heading(name, second, answer string) float64 {
	width := f.Width - 2*Margin
	y := f.Say(Margin, Margin+Ascent*TitleSize, f.First(2, name, width, Title)...)
	y = f.Paragraph(Margin, y-0.2*UsualSize, width, second, Soft)
	y = f.Paragraph(Margin, y+0.5*UsualSize, width, answer, Usual.Strong())
	return y - Ascent*UsualSize
}

// Notes writes notes from a place downward and ends the figure below them.
func (f *Figure) Notes(y float64, list []string) {
	y += Ascent * SmallSize
	for _, note := range list {
		y = f.Paragraph(Margin, y, f.Width-2*Margin, note, Small) + 0.2*SmallSize
	}
	f.Height = y - Ascent*SmallSize + Margin
}

// First are the first lines of a text. If words are left over, the last line ends in an
// ellipsis.
func (f *Figure) First(count int, text string, width float64, how Lettering) []Said {
	lines := f.Wrapped(text, width, how)
	if len(lines) <= count {
		return lines
	}
	whole := lines[count-1].Text
	cut := strings.LastIndex(whole, " ")
	for cut > 0 && f.Length(whole[:cut]+" …", how) > width {
		cut = strings.LastIndex(whole[:cut], " ")
	}
	lines[count-1].Text = whole[:max(0, cut)] + " …"
	return lines[:count]
}

// tied stands for a space at which no line may end. No printable text has this letter.
const tied = "\x00"

// Wrap breaks a text into lines no wider than width, mm. A longer word is cut, so that no
// tank's name runs over its neighbour.
func (f *Figure) Wrap(text string, width float64, t Lettering) []string {
	list := strings.Fields(strings.ReplaceAll(printable(text), " %", tied+"%"))
	for i, word := range list {
		list[i] = f.Fit(strings.ReplaceAll(word, tied, " "), width, t)
	}
	return words.Wrap(list, " ", func(line string) bool { return f.Length(line, t) <= width })
}

// Fit is a text, cut and marked with an ellipsis if it is wider than width, mm.
func (f *Figure) Fit(text string, width float64, t Lettering) string {
	if text = printable(text); f.Length(text, t) <= width {
		return text
	}
	letters := []rune(text)
	for len(letters) > 1 && f.Length(string(letters)+"…", t) > width {
		letters = letters[:len(letters)-1]
	}
	return strings.TrimRight(string(letters), " ") + "…"
}

// printable is a text without what no record may put into a picture.
func printable(text string) string {
	return strings.Map(words.Printable, strings.ToValidUTF8(text, "?"))
}
