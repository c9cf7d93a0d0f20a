package photo

import (
	"fmt"
	"math"

	"panecore/layers/photo/picture"
)

// Disc is a round part of the upright picture, pixels.
type Disc struct{ X, Y, R float64 }

// MaxHidden is how many discs may be left out of a reading (assumption: a few strokes of a brush).
const MaxHidden = 400

// discsWithin refuses discs without a size or not in the picture.
func discsWithin(p *picture.Picture, discs []Disc) error {
	if len(discs) > MaxHidden {
		return &Refusal{Reason: fmt.Sprintf("%d discs are left out, want at most %d", len(discs), MaxHidden), Help: "paint with fewer strokes, or draw the strip beside what is in the way"}
	}
	for _, d := range discs {
		if !(d.R > 0 && d.X >= 0 && d.Y >= 0 && d.X <= float64(p.Width) && d.Y <= float64(p.Height)) {
			return &Refusal{
				Reason: fmt.Sprintf("what is left out at %g,%g with a radius of %g is not a disc in the picture of %d x %d pixels", d.X, d.Y, d.R, p.Width, p.Height),
				Help:   "give its middle inside the picture and a radius above 0",
			}
		}
	}
	return nil
}

// paintOut marks the cells under painted discs.
func (g *grid) paintOut(mask []bool) {
	for _, d := range g.painted {
		row, column := g.cell(Point{d.X, d.Y})
		reach := d.R / g.pitch / g.scaleAt(row, column)
		for r := max(0, int(row-reach)); r < min(g.rows, int(math.Ceil(row+reach))); r++ {
			for c := max(0, int(column-reach)); c < min(g.cols, int(math.Ceil(column+reach))); c++ {
				if math.Hypot(float64(r)+0.5-row, float64(c)+0.5-column) <= reach {
					mask[r*g.cols+c] = true
				}
			}
		}
	}
}
