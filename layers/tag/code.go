package tag

import (
	"rsc.io/qr"
)

// Code is the QR code of a tag (ISO/IEC 18004).
type Code struct {
	Side  int // modules
	black func(x, y int) bool
}

// MostModules is the side of the largest code on a tag, modules: version 6. More would be too small to see
// (assumption).
const MostModules = 41

// NewCode is the smallest code for a tag that stands 15 % of damage, with more protection if it has room for that.
func NewCode(t Tag) (*Code, error) {
	if err := t.check(); err != nil {
		return nil, err
	}
	var best *qr.Code
	for _, level := range []qr.Level{qr.M, qr.Q, qr.H} {
		code, err := qr.Encode(t.Text(), level)
		if err != nil || code.Size > MostModules {
			break
		}
		if best == nil || code.Size == best.Size {
			best = code
		}
	}
	if best == nil {
		return nil, errLong
	}
	return &Code{best.Size, best.Black}, nil
}

// Black reports whether a module is black; outside of the code none is.
func (c *Code) Black(x, y int) bool { return c.black(x, y) }

// Quiet is the width of the white margin around the code, modules (ISO/IEC 18004, 9.1).
const Quiet = 4

// Where things are on a tag, in shares of its size, from the middle of the upper left corner mark, x to the right and
// y down. The code with its margin fills the square between the marks.
const (
	Arm = 0.05 // a corner mark is four squares of this side around its middle, two of them black
)

// Module is the side of a module, a share of the tag's size.
func Module(side int) float64 { return (1 - 2*Arm) / float64(side+2*Quiet) }

// Origin is where the code's modules begin, a share of the tag's size.
func Origin(side int) float64 { return Arm + Quiet*Module(side) }

// Box is a part of a tag, in shares of its size.
type Box struct{ X, Y, W, H float64 }

// The patches below the code: bare paper, full ink, and half-tone grey, whose lightness is the printer's.
var (
	White = Box{0.10, 1.09, 0.24, 0.18}
	Grey  = Box{0.38, 1.09, 0.24, 0.18}
	Black = Box{0.66, 1.09, 0.24, 0.18}
)

// Around a tag's marks its paper has room for its name, a scale and the scissors, mm.
const (
	PaperLeft  = 4.0
	PaperRight = 11.0
	PaperAbove = 9.0
	PaperBelow = 6.0
)

// Paper is the paper of a tag of a size, mm from the middle of the upper left mark.
func Paper(sizeMM float64) Box {
	left, above := Arm*sizeMM+PaperLeft, Arm*sizeMM+PaperAbove
	return Box{-left, -above, left + (1+Arm)*sizeMM + PaperRight, above + (White.Y+White.H)*sizeMM + PaperBelow}
}

// Corners are the middles of the corner marks, from the upper left clockwise.
func Corners() [4][2]float64 { return [4][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} }

// MarkBlack reports whether a corner mark is black at a place, relative to its middle. Upper left and lower right of it
// are; a quarter turn changes that, so a tag on its side does not pass for an upright one.
func MarkBlack(dx, dy float64) bool { return dx < 0 == (dy < 0) }
