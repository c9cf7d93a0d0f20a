package photo

import (
	"cmp"
	"fmt"
	"math"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// Swatch is the colour that a picture shows in a box.
type Swatch struct {
	Color    palette.Color // under the corrected light
	Spread   float64       // of the box's colours about it, root-mean-square CIEDE2000
	Masked   float64       // share of the box left out as glare
	Gain     palette.Linear
	Cards    int
	Warnings []string
}

// mostSwatchMasked is the share of a box that glare may hide (assumption, as for a row of
// depth).
const mostSwatchMasked = 1 - leastRowSeen

// ReadSwatch reads the colour in a box of a picture, under the light that grey cards show. Its
// error is a *Refusal.
func ReadSwatch(p *picture.Picture, box Box, cards []Card) (Swatch, error) {
	if err := cmp.Or(within(p, "box", box), cardsWithin(p, cards)); err != nil {
		return Swatch{}, err
	}
	light, err := newCorrection(p, cards)
	if err != nil {
		return Swatch{}, err
	}
	if !light.exposed {
		light.warnings = append(light.warnings, "lightness is the camera's guess: give the grey card's reflectance or lightness")
	}
	upright := frame{pxPerMM: 1, downY: 1} // without a ruler a cell is pixelsCell wide
	g := sample(p, upright, box.X+box.W/2, box.Y, box.W, box.H)
	s := Swatch{Gain: light.gain, Cards: light.cards, Warnings: light.warnings}
	seen, whole := g.unmasked()
	if s.Masked = 1 - float64(len(seen))/float64(max(1, whole)); s.Masked > mostSwatchMasked {
		return Swatch{}, &Refusal{
			Reason: fmt.Sprintf("%.0f %% of the box is over-exposed, want at most %.0f %%", 100*s.Masked, 100*mostSwatchMasked),
			Help:   "mark a part without glare, or photograph with the lamp off and less exposure",
		}
	}
	var mean palette.Linear
	for _, l := range seen {
		for c := range mean {
			mean[c] += l[c] / float64(len(seen))
		}
	}
	s.Color = light.apply(mean).Color()
	var squares float64
	for _, l := range seen {
		d := palette.Difference(s.Color.Lab(), light.apply(l).Lab())
		squares += d * d
	}
	s.Spread = math.Sqrt(squares / float64(len(seen)))
	return s, nil
}

// unmasked lists the light of the cells without glare, and counts all cells in the picture.
func (g *grid) unmasked() (seen []palette.Linear, whole int) {
	glare := g.glare()
	for at, n := range g.pixels {
		if n == 0 {
			continue
		}
		whole++
		if !glare[at] {
			seen = append(seen, g.light[at])
		}
	}
	return seen, whole
}
