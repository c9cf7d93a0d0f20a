package pen

// Lettering is how a text is set.
type Lettering struct {
	Size   float64 // of the em, mm
	Bold   bool
	Anchor Anchor
	Ink    Ink
}

// Anchor is where a text stands by its place.
type Anchor uint8

// Where a text may stand.
const (
	FromHere Anchor = iota // it begins at its place
	Centred
	UpToHere // it ends there
)

// The sizes of letters, mm (assumptions: 8 and 7 points, small print on paper; 12 points).
const (
	UsualSize = 2.85
	SmallSize = 2.45
	TitleSize = 4.2
)

// How far the tallest letters reach above the baseline and the longest below, shares of
// the size (the Go fonts: 0.73 and 0.21).
const (
	Ascent  = 0.74
	Descent = 0.22
)

// Leading is from one baseline to the next, in sizes of the letters.
const Leading = 1.35

// Capitals is how high they are, a share of the size (the Go fonts).
const Capitals = 0.72

// The usual letterings.
var (
	Title = Lettering{Size: TitleSize, Bold: true, Ink: InkWord}
	Usual = Lettering{Size: UsualSize, Ink: InkWord}
	Soft  = Lettering{Size: UsualSize, Ink: InkSoft}
	Small = Lettering{Size: SmallSize, Ink: InkSoft}
)

// Strong is the lettering in bold.
func (l Lettering) Strong() Lettering { l.Bold = true; return l }

// To is the lettering that stands so by its place.
func (l Lettering) To(a Anchor) Lettering { l.Anchor = a; return l }

// InInk is the lettering in another ink.
func (l Lettering) InInk(ink Ink) Lettering { l.Ink = ink; return l }
