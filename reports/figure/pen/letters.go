package pen

// Lettering is how a text is set.
type Lettering struct {
	Size   float64 // em, mm
	Bold   bool
	Anchor Anchor
	Ink    Ink
}

// Anchor is the part of a text that stands at its place.
type Anchor uint8

// The anchors.
const (
	FromHere Anchor = iota // the beginning
	Centred                // the middle
	UpToHere               // the end
)

// The sizes of letters, mm (assumptions: 8, 7 and 12 points; the first two are small print on
// paper).
const (
	UsualSize = 2.85
	SmallSize = 2.45
	TitleSize = 4.2
)

// How far letters reach above and below the baseline, shares of the size (the Go fonts: 0.73
// and 0.21).
const (
	Ascent  = 0.74
	Descent = 0.22
)

// Leading is the distance between baselines, in sizes of the letters (assumption).
const Leading = 1.35

// Capitals is the height of capitals, a share of the size (the Go fonts).
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

// To is the lettering with another anchor.
func (l Lettering) To(a Anchor) Lettering { l.Anchor = a; return l }

// InInk is the lettering in another ink.
func (l Lettering) InInk(ink Ink) Lettering { l.Ink = ink; return l }
