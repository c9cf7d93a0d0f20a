package tagged

import (
	"math"

	"panecore/layers/tag"
)

// shadeOf is what a tag is at a place: white, black, or not known before its code is read.
type shadeOf int8

const (
	unknown shadeOf = iota
	white
	black
)

func inked(is bool) shadeOf {
	if is {
		return black
	}
	return white
}

// pattern is what a tag with a code of a side shows, in shares of its size.
type pattern struct {
	side   int
	module float64 // a share of the size
	origin float64
	code   *tag.Code // nil: not read yet
}

func newPattern(side int, code *tag.Code) *pattern {
	return &pattern{side, tag.Module(side), tag.Origin(side), code}
}

// at is the shade at a place.
func (p *pattern) at(x, y float64) shadeOf {
	for _, c := range tag.Corners() {
		if dx, dy := x-c[0], y-c[1]; math.Abs(dx) < tag.Arm && math.Abs(dy) < tag.Arm {
			return inked(tag.MarkBlack(dx, dy))
		}
	}
	if min(x, y) < -tag.Arm || max(x, y) > 1+tag.Arm {
		return unknown
	}
	return p.moduleAt(int(math.Floor((x-p.origin)/p.module)), int(math.Floor((y-p.origin)/p.module)))
}

// moduleAt is the shade of a module; those beside the code are white.
func (p *pattern) moduleAt(x, y int) shadeOf {
	if x < 0 || y < 0 || x >= p.side || y >= p.side {
		return white
	}
	if p.code != nil {
		return inked(p.code.Black(x, y))
	}
	return fixed(p.side, x, y)
}

// fixed is the shade of a module that all codes of a side share: eyes and the margins within, the dotted lines between
// them, and the small square near the fourth corner (ISO/IEC 18004, 6.3).
func fixed(side, x, y int) shadeOf {
	for _, e := range [][2]int{{0, 0}, {side - 7, 0}, {0, side - 7}} {
		dx, dy := x-e[0]-3, y-e[1]-3
		if r := max(dx, -dx, dy, -dy); r <= 4 {
			return inked(r <= 1 || r == 3)
		}
	}
	if x == 6 || y == 6 {
		return inked((x+y)%2 == 0)
	}
	if side > 21 { // version 2 to 6 have one
		dx, dy := x-(side-7), y-(side-7)
		if r := max(dx, -dx, dy, -dy); r <= 2 {
			return inked(r != 1)
		}
	}
	return unknown
}

// spot is a place on a tag and what is seen there.
type spot struct {
	x, y  float64 // shares of the size
	black bool
}

// spots are places of known shade: three by three in each module and, for the corner marks, as near.
func (p *pattern) spots() (list []spot) {
	step := p.module / 3
	first, last := -tag.Arm+step/2, 1+tag.Arm
	for y := first; y < last; y += step {
		for x := first; x < last; x += step {
			if is := p.at(x, y); is != unknown {
				list = append(list, spot{x, y, is == black})
			}
		}
	}
	return list
}

// middles are the middles of the modules of known shade, without the margin.
func (p *pattern) middles() (list []spot) {
	for y := range p.side {
		for x := range p.side {
			if is := p.moduleAt(x, y); is != unknown {
				list = append(list, spot{p.middle(x), p.middle(y), is == black})
			}
		}
	}
	return list
}

// middle is that of a row or column of modules.
func (p *pattern) middle(i int) float64 { return p.origin + (float64(i)+0.5)*p.module }
