package figure

import "strings"

// said is a line of text and how it is set.
type said struct {
	text string
	how  lettering
}

// height is what a line takes, mm.
func (s said) height() float64 { return leading * s.how.size }

// heightOf is what lines take below each other, mm.
func heightOf(lines []said) (sum float64) {
	for _, l := range lines {
		sum += l.height()
	}
	return sum
}

// stack sets lines below each other about a middle, each cut where it is wider than width.
func (f *Figure) stack(x, middle, width float64, lines ...said) {
	y := middle - heightOf(lines)/2
	for _, l := range lines {
		// Letters reach further up than down: the line's middle is that of its capitals.
		f.text(x, y+l.height()/2+capitals/2*l.how.size, f.fit(l.text, width, l.how), l.how)
		y += l.height()
	}
}

// wrapped are the lines of a text.
func (f *Figure) wrapped(text string, width float64, how lettering) (lines []said) {
	for _, line := range f.wrap(text, width, how) {
		lines = append(lines, said{line, how})
	}
	return lines
}

// heading writes what is drawn, a second line about it and the answer, and returns where
// they end. A name takes two lines at most.
func (f *Figure) heading(name, second, answer string) float64 {
	width := f.Width - 2*margin
	lines := f.wrap(name, width, title)
	if len(lines) > 2 {
		lines = append(lines[:1], f.fit(lines[1]+" …", width, title))
	}
	y := margin + ascent*titleSize
	for _, line := range lines {
		f.text(margin, y, line, title)
		y += leading * titleSize
	}
	y = f.paragraph(margin, y-0.2*usualSize, width, second, soft)
	y = f.paragraph(margin, y+0.5*usualSize, width, answer, usual.strong())
	return y - ascent*usualSize
}

// notes writes what is to be known besides from a place downward, and ends the figure
// below.
func (f *Figure) notes(y float64, list []string) {
	y += ascent * smallSize
	for _, note := range list {
		y = f.paragraph(margin, y, f.Width-2*margin, note, small) + 0.2*smallSize
	}
	f.Height = y - ascent*smallSize + margin
}

// first are the first lines of a text, the last with a mark for the words that were to come.
func (f *Figure) first(count int, text string, width float64, how lettering) []said {
	lines := f.wrapped(text, width, how)
	if len(lines) <= count {
		return lines
	}
	whole := lines[count-1].text
	cut := strings.LastIndex(whole, " ")
	for cut > 0 && f.length(whole[:cut]+" …", how) > width {
		cut = strings.LastIndex(whole[:cut], " ")
	}
	lines[count-1].text = whole[:max(0, cut)] + " …"
	return lines[:count]
}
