// Package seek finds in a picture what stands on the pane: a ruler and a grey or white card. It knows nothing of the bed.
package seek

import (
	"math"
	"sync"

	"panecore/layers/photo/picture"
)

// workingSide is about how many pixels the longer side of a picture that is searched has: a millimetre is then three pixels
// or more where the picture shows no more than half a metre (assumption).
const workingSide = 1800

// Small is a picture made small enough to search.
type Small struct {
	Width, Height int
	Scale         float64 // pixels of the picture to one of these, each way

	ln     []float32    // ln of luminance, row by row
	colour [][3]float32 // linear light in the picture's own primaries, white at 1
}

// dark is added to luminance before its logarithm is taken, white at 1 (assumption: the noise of a dark pixel).
const dark = 0.004

// shrinkers is how many goroutines share the rows.
const shrinkers = 2

// Shrink makes a picture small enough to search, by the mean of whole pixels.
func Shrink(p *picture.Picture) *Small {
	n := max(1, int(math.Round(float64(max(p.Width, p.Height))/workingSide)))
	s := &Small{Width: p.Width / n, Height: p.Height / n, Scale: float64(n)}
	s.ln, s.colour = make([]float32, s.Width*s.Height), make([][3]float32, s.Width*s.Height)
	logs := make([]float32, 1<<16) // of a luminance's first 16 binary digits: a logarithm of each pixel takes longer
	for i := range logs {
		logs[i] = float32(math.Log(dark + float64(i)/float64(len(logs)-1)))
	}
	var crew sync.WaitGroup
	for i := range shrinkers {
		crew.Go(func() {
			row, sums := make([]picture.Light, s.Width*n), make([][3]uint32, s.Width)
			for y := s.Height * i / shrinkers; y < s.Height*(i+1)/shrinkers; y++ {
				clear(sums)
				for dy := range n {
					p.Row(row, 0, y*n+dy)
					for x, light := range row {
						for c := range light {
							sums[x/n][c] += uint32(light[c])
						}
					}
				}
				s.fill(p, y, sums, logs)
			}
		})
	}
	crew.Wait()
	return s
}

func (s *Small) fill(p *picture.Picture, y int, sums [][3]uint32, logs []float32) {
	scale := 1 / (65535 * s.Scale * s.Scale)
	for x, sum := range sums {
		light := p.SRGB([3]float64{float64(sum[0]) * scale, float64(sum[1]) * scale, float64(sum[2]) * scale})
		for c := range light {
			light[c] = max(0, light[c])
		}
		at := y*s.Width + x
		s.colour[at] = [3]float32{float32(light[0]), float32(light[1]), float32(light[2])}
		luminance := .2126*light[0] + .7152*light[1] + .0722*light[2] // IEC 61966-2-1
		s.ln[at] = logs[int(min(luminance, 1)*float64(len(logs)-1)+.5)]
	}
}

// turned is the picture with rows and columns exchanged.
func (s *Small) turned() *Small {
	t := &Small{Width: s.Height, Height: s.Width, Scale: s.Scale, ln: make([]float32, len(s.ln))}
	for y := range s.Height {
		for x := range s.Width {
			t.ln[x*t.Width+y] = s.ln[y*s.Width+x]
		}
	}
	return t
}

// at is ln of luminance between pixels' centres, by the nearest four; outside the picture its rim goes on.
func (s *Small) at(x, y float64) float64 {
	x, y = min(max(0, x), float64(s.Width-1)-1e-6), min(max(0, y), float64(s.Height-1)-1e-6)
	x0, y0 := int(x), int(y)
	fx, fy := x-float64(x0), y-float64(y0)
	i := y0*s.Width + x0
	upper := float64(s.ln[i])*(1-fx) + float64(s.ln[i+1])*fx
	lower := float64(s.ln[i+s.Width])*(1-fx) + float64(s.ln[i+s.Width+1])*fx
	return upper*(1-fy) + lower*fy
}
