package photo

import (
	"math"

	"panecore/palette"
)

// Light reflected by the pane adds the same white to every channel, while brighter grains are
// brighter in the layer's own colour. So a patch's excess over its layer is that of the
// channel with the least; a patch with too much of it is veiled (assumptions).
const (
	leastVeil   = 0.03 // excess, at least; linear light, white at 1
	veilSpreads = 3.5  // excess over the layer's median, at least, in spreads of its patches
	veilPatch   = 1.0  // mm on each side of a block that are averaged
)

// maskVeil marks blocks of the bed under a reflection as unseen.
func (s *strata) maskVeil() {
	f := s.field
	excess := make([]float64, len(f.lab))
	layer := make([]int, len(f.lab))
	for k := 1; k < len(s.looks); k++ {
		own := palette.Lab{L: s.looks[k].mean[0], A: s.looks[k].mean[1], B: s.looks[k].mean[2]}.Linear()
		for b := range f.blocks {
			from, to := s.edge(k-1, b), s.edge(k, b)
			for r := max(0, int(math.Ceil(from))); r < min(f.rows, int(to)); r++ {
				lab, ok := f.at(r, b)
				if !ok {
					continue
				}
				light := palette.Lab{L: lab[0], A: lab[1], B: lab[2]}.Linear()
				i := r*f.blocks + b
				excess[i], layer[i] = min(light[0]-own[0], light[1]-own[1], light[2]-own[2]), k
			}
		}
	}
	smooth := f.smoothed(excess, layer)
	for k := 1; k < len(s.looks); k++ {
		var own []float64
		for i, in := range layer {
			if in == k {
				own = append(own, smooth[i])
			}
		}
		middle := median(own)
		limit := max(leastVeil, middle+veilSpreads*spread(own, middle))
		for i, in := range layer {
			if in == k && smooth[i] > limit {
				f.seen[i], f.veiled[i] = false, true
			}
		}
	}
}

// smoothed averages values over the patch around each block, within its layer.
func (f *field) smoothed(values []float64, layer []int) []float64 {
	down, across := int(math.Round(veilPatch/f.pitch)), max(1, int(math.Round(veilPatch/f.width)))
	out := make([]float64, len(values))
	for r := range f.rows {
		for b := range f.blocks {
			i := r*f.blocks + b
			if layer[i] == 0 {
				continue
			}
			sum, n := 0.0, 0.0
			for y := max(0, r-down); y <= min(f.rows-1, r+down); y++ {
				for x := max(0, b-across); x <= min(f.blocks-1, b+across); x++ {
					if j := y*f.blocks + x; layer[j] == layer[i] {
						sum += values[j]
						n++
					}
				}
			}
			out[i] = sum / n
		}
	}
	return out
}
