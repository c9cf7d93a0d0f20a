package photo

import (
	"math"

	"panecore/palette"
)

// darkLight is added to a cell's luminance, so that a camera's noise in the dark is no contrast
// (assumption: what the darkest mud reflects).
const darkLight = 0.003

// logs are the cells' logarithms of luminance; not a number where a cell isn't seen.
func (g *grid) logs(masked []bool) []float32 {
	list := make([]float32, len(g.pixels))
	for at := range list {
		if list[at] = float32(math.NaN()); g.pixels[at] > 0 && !masked[at] && !g.shutter.holds(at/g.cols, at%g.cols) {
			list[at] = float32(math.Log(g.light[at].Luminance() + darkLight))
		}
	}
	return list
}

// leastPairs is how many pairs of cells show a layer's contrast (assumption).
const leastPairs = 200

// grainBetween is what the cells between two edges show of the layer's grain; none: too few are seen.
func (s *strata) grainBetween(top, bottom int) palette.Texture {
	far, near := s.differ(top, bottom, palette.ContrastMM), s.differ(top, bottom, palette.FinenessMM)
	if !(far > 0 && near > 0) {
		return palette.Texture{}
	}
	return palette.Texture{Contrast: math.Sqrt(far / 2), Fineness: near / far}
}

// differ is by how much the cells between two edges differ from those so many mm to the right: mean square
// of ln luminance; not a number: too few are seen.
func (s *strata) differ(top, bottom int, mm float64) float64 {
	f := s.field
	lag := max(1, int(math.Round(mm/f.pitch)))
	var squares float64
	pairs := 0
	for b := range f.blocks {
		first, last := f.inner(s.edge(top, b), s.edge(bottom, b))
		for r := first; r < last; r++ {
			for c := b * f.wide; c < min((b+1)*f.wide, f.cols-lag); c++ {
				d := float64(f.log[r*f.cols+c] - f.log[r*f.cols+c+lag])
				if !math.IsNaN(d) {
					squares += d * d
					pairs++
				}
			}
		}
	}
	if pairs < leastPairs {
		return math.NaN()
	}
	return squares / float64(pairs)
}
