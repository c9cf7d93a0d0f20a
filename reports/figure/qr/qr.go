// Package qr draws QR codes (ISO/IEC 18004): as squares for whoever places them, as a path for a
// page, as blocks for a terminal.
package qr

import (
	"fmt"
	"strings"

	"rsc.io/qr"
)

// Quiet is the margin that a reader needs around a code, modules (ISO/IEC 18004, 5.3.8).
const Quiet = 4

// Code is a QR code.
type Code struct{ code *qr.Code }

// Encode makes the smallest code that holds a text and can be read with 15 % of it lost (level M).
// The error is that the text is too long: a code holds 2,331 bytes.
func Encode(text string) (Code, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return Code{}, fmt.Errorf("found %d bytes for a QR code, want 2331 or fewer", len(text))
	}
	return Code{code}, nil
}

// Size is the code's width and height without its margin, modules.
func (c Code) Size() int { return c.code.Size }

// Dark reports whether a module is dark: x to the right, y down, both from 0. The margin is not.
func (c Code) Dark(x, y int) bool { return c.code.Black(x, y) }

// Side is the code's width and height with its margin, modules.
func (c Code) Side() int { return c.Size() + 2*Quiet }

// Path is the dark modules as the data of an SVG path, in modules from the margin's upper left
// corner (SVG 2, 9.3). Each run of a row is one rectangle.
func (c Code) Path() string {
	var path strings.Builder
	for y := range c.Size() {
		for x := 0; x < c.Size(); x++ {
			from := x
			for c.Dark(x, y) {
				x++
			}
			if x > from {
				fmt.Fprintf(&path, "M%d %dh%dv1h-%dz", from+Quiet, y+Quiet, x-from, x-from)
			}
		}
	}
	return path.String()
}

// The colours of a terminal's blocks, fixed, since those of 0 to 15 are the terminal's own choice:
// white on black of the 256 (ECMA-48, 8.3.117; xterm's control sequences).
const (
	whiteOnBlack = "\x1b[38;5;231;48;5;16m"
	asBefore     = "\x1b[0m"
)

// Blocks is the code as lines of half blocks for a terminal, two rows of modules to a line. It
// sets its own colours, so that it is dark on light on any ground; without them it is right on a
// dark one, since what is drawn are the light modules.
func (c Code) Blocks() string {
	blocks := [2][2]rune{{'█', '▀'}, {'▄', ' '}} // upper dark, lower dark
	row := func(dark bool) int {
		if dark {
			return 1
		}
		return 0
	}
	var text strings.Builder
	for y := -Quiet; y < c.Size()+Quiet; y += 2 {
		text.WriteString(whiteOnBlack)
		for x := -Quiet; x < c.Size()+Quiet; x++ {
			text.WriteRune(blocks[row(c.Dark(x, y))][row(c.Dark(x, y+1))])
		}
		text.WriteString(asBefore + "\n")
	}
	return text.String()
}
