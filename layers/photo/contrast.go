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
		if list[at] = float32(math.NaN()); g.pixels[at] > 0 && !masked[at] {
			list[at] = float32(math.Log(g.light[at].Luminance() + darkLight))
		}
	}
	return list
}

// leastPairs is how many pairs of cells show a layer's contrast (assumption).
const leastPairs = 200

// contrast is how the cells between two edges differ from those ContrastMM to the right: standard deviation
// of ln luminance; 0: too few are seen.
func (s *strata) contrast(top, bottom int) float64 {
	f := s.field
	lag := max(1, int(math.Round(palette.ContrastMM/f.pitch)))
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
		return 0
	}
	return math.Sqrt(squares / 2 / float64(pairs))
}
