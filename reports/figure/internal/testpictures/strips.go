package testpictures

import (
	"image"
	"image/color"
	"math/rand/v2"

	"panecore/palette"
	"panecore/reports"
)

// Strips are strips of a record's cores, four pixels a millimetre, grainy and below 5 mm of water; every seventh core has
// none, and every fifth strip no card.
func Strips(t reports.Timeline) (list []reports.Strip) {
	const px, wide, above = 4, 20, 5
	for _, s := range t.Stations {
		for n, core := range s.Cores {
			if n%7 == 6 {
				continue
			}
			rng := rand.New(rand.NewPCG(uint64(n), 7))
			img := image.NewRGBA(image.Rect(0, 0, px*wide, int(px*(above+core.DepthMM()))))
			for y := range img.Rect.Dy() {
				c := palette.Color{R: 0x6e, G: 0x86, B: 0x90}
				for _, l := range core.Layers {
					if float64(y)/px-above >= l.TopMM {
						c = l.Hex
					}
				}
				for x := range img.Rect.Dx() {
					shade := 0.8 + 0.3*rng.Float64()
					img.SetRGBA(x, y, color.RGBA{uint8(shade * float64(c.R) / 1.1), uint8(shade * float64(c.G) / 1.1), uint8(shade * float64(c.B) / 1.1), 255})
				}
			}
			list = append(list, reports.Strip{
				Station: core.Station, Date: core.Date, WidthMM: wide, AboveMM: above, DepthMM: core.DepthMM(), Picture: img, Carded: n%5 != 4,
			})
		}
	}
	return list
}
