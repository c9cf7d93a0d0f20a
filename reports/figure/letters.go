package figure

// lettering is how a text is set.
type lettering struct {
	size   float64 // of the em, mm
	bold   bool
	anchor anchor
	ink    Ink
}

// anchor is where a text stands by its place.
type anchor uint8

const (
	fromHere anchor = iota
	centred
	upToHere
)

// The sizes of letters, mm (assumptions: 8 and 7 points, small print on paper; 12 points).
const (
	usualSize = 2.85
	smallSize = 2.45
	titleSize = 4.2
)

// How far the tallest letters reach above the baseline and the longest below, shares of
// the size (the Go fonts: 0.73 and 0.21).
const (
	ascent  = 0.74
	descent = 0.22
)

// leading is from one baseline to the next, in sizes of the letters.
const leading = 1.35

// capitals is how high they are, a share of the size (the Go fonts).
const capitals = 0.72

// The usual letterings.
var (
	title = lettering{size: titleSize, bold: true, ink: inkWord}
	usual = lettering{size: usualSize, ink: inkWord}
	soft  = lettering{size: usualSize, ink: inkSoft}
	small = lettering{size: smallSize, ink: inkSoft}
)

func (l lettering) strong() lettering       { l.bold = true; return l }
func (l lettering) to(a anchor) lettering   { l.anchor = a; return l }
func (l lettering) inInk(ink Ink) lettering { l.ink = ink; return l }
