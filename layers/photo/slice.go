package photo

import (
	"image"
	"image/color"
	"math"

	"panecore/layers"
	"panecore/palette"
)

// The picture of a slice (assumptions: grains of a millimetre show, and a bed of 120 mm is 500 pixels high).
const (
	SlicePxPerMM = 4.0
	SliceAbove   = waterAbove // mm of water above the bed surface
	SliceMost    = 40.0       // mm wide, at most
)

// Slice is a strip as a picture: upright, to scale from the bed surface down, its colours in the light that the reading
// solved for, so that slices of different days can be laid side by side.
type Slice struct {
	Width, Height int // pixels, of SlicePxPerMM; the bed surface lies SliceAbove down
	light         []palette.Linear
	seen          []sliceSight  // row by row
	relief        []float64     // by how much each column's bed surface lies below the mean one, mm
	doubt         *layers.Photo // of the reading
	carded        bool          // a card fixes its tint
}

// sliceSight is what a pixel of a slice shows.
type sliceSight uint8

const (
	outside sliceSight = iota // of the strip or of the photo
	hidden                    // by glare
	inSight
)

// SliceWidth is how wide the slice of a strip is, mm.
func SliceWidth(picks Picks) float64 {
	if picks.Plane != nil {
		g, err := picks.grid()
		if err != nil {
			return 0
		}
		return min(SliceMost, float64(g.cols)*g.pitch)
	}
	f, err := newFrame(picks.Ruler)
	if err != nil {
		return 0
	}
	return min(SliceMost, picks.Strip.W/f.pxPerMM)
}

// Slice is the strip as one of its readings has it, from SliceAbove above the bed surface to a depth below it, mm.
func (v *View) Slice(r *Reading, depth float64) *Slice {
	g := v.grid
	s := &Slice{
		Width: max(1, int(math.Round(SliceWidth(v.picks)*SlicePxPerMM))), Height: max(1, int(math.Round((SliceAbove+depth)*SlicePxPerMM))),
		doubt: r.Core.Photo, carded: Carded(r.Core.Photo),
	}
	s.light, s.seen = make([]palette.Linear, s.Width*s.Height), make([]sliceSight, s.Width*s.Height)
	surface := float64(g.rows) - r.Core.DepthMM()/g.pitch
	for x := range s.Width {
		column := float64(g.cols)/2 + (float64(x)+0.5-float64(s.Width)/2)/SlicePxPerMM/g.pitch
		s.relief = append(s.relief, v.relief(column))
		for y := range s.Height {
			row := surface + ((float64(y)+0.5)/SlicePxPerMM-SliceAbove)/g.pitch
			at := y*s.Width + x
			var light palette.Linear
			if light, s.seen[at] = v.between(row-0.5, column-0.5); s.seen[at] != outside {
				s.light[at] = r.Light.Relight(v.light.apply(light).Lab()).Linear()
			}
		}
	}
	return s
}

// relief is by how much the bed surface lies below its mean at a column of the grid, mm.
func (v *View) relief(column float64) float64 {
	f := v.strata.field
	block := min(f.blocks-1, max(0, int(column)/f.wide))
	return (v.strata.at[block][0] - v.strata.level[0]) * f.pitch
}

// between is the light between the centres of the four cells around a place in the grid.
func (v *View) between(row, column float64) (light palette.Linear, seen sliceSight) {
	g, f := v.grid, v.strata.field
	if row < -0.5 || column < -0.5 || row > float64(g.rows)-0.5 || column > float64(g.cols)-0.5 {
		return light, outside
	}
	seen = inSight
	top, left := int(math.Floor(row)), int(math.Floor(column))
	for i := range 4 {
		r, c := top+i/2, left+i%2
		share := (1 - math.Abs(row-float64(r))) * (1 - math.Abs(column-float64(c)))
		r, c = min(max(r, 0), g.rows-1), min(max(c, 0), g.cols-1)
		if g.pixels[r*g.cols+c] == 0 {
			return light, outside
		}
		if f.hides(g, r, c) {
			seen = hidden
		}
		for ch, v := range g.light[r*g.cols+c] {
			light[ch] += share * v
		}
	}
	return light, seen
}

// Image is the slice as a picture; what is not in the photo has the colour of the ground.
func (s *Slice) Image(ground palette.Color) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, s.Width, s.Height))
	for at, light := range s.light {
		c := ground
		if s.seen[at] != outside {
			c = light.Color()
		}
		img.SetRGBA(at%s.Width, at/s.Width, color.RGBA{c.R, c.G, c.B, 255})
	}
	return img
}

// Carded reports whether a card fixed the tint of the photo that a core was read from.
func Carded(p *layers.Photo) bool { return p.ColorDoubt < doubtNoCard }
