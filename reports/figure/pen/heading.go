package pen

import "strings"

// Said is a line of text and how it is set.
type Said struct {
	Text string
	How  Lettering
}

// Height is what a line takes, mm.
func (s Said) Height() float64 { return Leading * s.How.Size }

// HeightOf is what lines take below each other, mm.
func HeightOf(lines []Said) (sum float64) {
	for _, l := range lines {
		sum += l.Height()
	}
	return sum
}

// Stack sets lines below each other about a middle, each cut where it is wider than width.
func (f *Figure) Stack(x, middle, width float64, lines ...Said) {
	y := middle - HeightOf(lines)/2
	for _, l := range lines {
		// Letters reach further up than down: the line's middle is that of its capitals.
		f.Text(x, y+l.Height()/2+Capitals/2*l.How.Size, f.Fit(l.Text, width, l.How), l.How)
		y += l.Height()
	}
}

// Wrapped are the lines of a text.
func (f *Figure) Wrapped(text string, width float64, how Lettering) (lines []Said) {
	for _, line := range f.Wrap(text, width, how) {
		lines = append(lines, Said{line, how})
	}
	return lines
}

// Heading writes what is drawn, a second line about it and the answer, and returns where
// they end. A name takes two lines at most.
func (f *Figure) Heading(name, second, answer string) float64 {
	width := f.Width - 2*Margin
	lines := f.Wrap(name, width, Title)
	if len(lines) > 2 {
		lines = append(lines[:1], f.Fit(lines[1]+" …", width, Title))
	}
	y := Margin + Ascent*TitleSize
	for _, line := range lines {
		f.Text(Margin, y, line, Title)
		y += Leading * TitleSize
	}
	y = f.Paragraph(Margin, y-0.2*UsualSize, width, second, Soft)
	y = f.Paragraph(Margin, y+0.5*UsualSize, width, answer, Usual.Strong())
	return y - Ascent*UsualSize
}

// Notes writes what is to be known besides from a place downward, and ends the figure
// below.
func (f *Figure) Notes(y float64, list []string) {
	y += Ascent * SmallSize
	for _, note := range list {
		y = f.Paragraph(Margin, y, f.Width-2*Margin, note, Small) + 0.2*SmallSize
	}
	f.Height = y - Ascent*SmallSize + Margin
}

// First are the first lines of a text, the last with a mark for the words that were to come.
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
