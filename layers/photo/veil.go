package photo

import (
	"math"

	"panecore/palette"
)

// Light thrown back by the pane adds the same white to every channel, where grains that are
// brighter than their layer are so in the layer's own colour. A patch counts as veiled where
// what it has over its layer in the least of the channels is more than leastVeil (linear light,
// white at 1) and more than veilSpreads of the patches' own spread (assumptions).
const (
	leastVeil   = 0.03
	veilSpreads = 3.5
	veilPatch   = 1.0 // mm to each side of a block that are averaged
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

// smoothed averages values over the patch about each block, within its layer.
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
