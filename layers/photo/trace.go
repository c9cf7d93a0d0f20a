package photo

import (
	"math"
	"sync"
)

// look is a layer's colour, and how its blocks differ from it.
type look struct {
	mean, variance [3]float64
	logs           float64 // sum of the variances' logarithms
	behind         bool    // it is water, and anything behind it may show
}

// misfit is twice the negative logarithm of the likelihood of a block's colour in a layer.
func (l *look) misfit(lab [3]float64) float64 {
	d := l.distance(lab) + l.logs
	if l.behind {
		return min(d, strangeWater)
	}
	return min(d, strangeBed)
}

// distance is a block's squared distance from the layer's colour, in variances.
func (l *look) distance(lab [3]float64) (d float64) {
	for c := range 3 {
		off := lab[c] - l.mean[c]
		d += off * off / l.variance[c]
	}
	return d
}

// The most misfit of any block (assumptions). In the water it is that of a colour spread evenly
// over 100 in lightness, 30 and 40 in hue (CIELAB units), as of plants, animals and the
// background. In the bed a root or pebble speaks against all layers alike; its misfit is
// higher there, so that on the surface it goes to the water.
const (
	strangeWater = 18.0
	strangeBed   = 21.0
)

// leastVariance is the least variance of a channel within a layer, CIELAB units squared
// (assumption).
const leastVariance = 1.0

// looks learns the layers' looks from the blocks between the edges.
func (f *field) looks(edges warp) []look {
	out := make([]look, len(edges.level)+1)
	var crew sync.WaitGroup
	for k := range out {
		crew.Go(func() { out[k] = f.lookBetween(edges, k-1, k) })
	}
	crew.Wait()
	return out
}

// lookBetween learns the look between two edges, without the rows next to them. Edge -1 is the
// strip's top, the one past the last its end.
func (f *field) lookBetween(edges warp, top, bottom int) (l look) {
	var channel [3][]float64
	room := 0
	for b := range f.blocks {
		from, to := edges.edge(top, b, f.rows), edges.edge(bottom, b, f.rows)
		room += int(to-from) + 1
	}
	for c := range channel {
		channel[c] = make([]float64, 0, room)
	}
	for b := range f.blocks {
		from, to := edges.edge(top, b, f.rows), edges.edge(bottom, b, f.rows)
		first, last := f.inner(from, to)
		for r := first; r < last; r++ {
			if lab, ok := f.at(r, b); ok {
				for c := range channel {
					channel[c] = append(channel[c], lab[c])
				}
			}
		}
	}
	for c := range channel {
		if len(channel[c]) == 0 {
			l.variance[c] = unseenVariance
			continue
		}
		middle := median(channel[c])
		s := spread(channel[c], middle)
		l.mean[c], l.variance[c] = middle, leastVariance+s*s
	}
	for _, v := range l.variance {
		l.logs += math.Log(v)
	}
	return l
}

// unseenVariance is the variance of a hidden layer, CIELAB units squared (assumption: it may
// have any colour).
const unseenVariance = 400.0

// farOff is the distance above which a block is not part of the layer's texture, variances
// (assumption).
const farOff = 12.0

// outlier reports whether a block is not part of the layer's texture.
func (l *look) outlier(lab [3]float64) bool { return l.distance(lab) > farOff }

// edge is the row of an edge in a block of so many rows.
func (w warp) edge(k, block, rows int) float64 {
	switch k {
	case -1:
		return 0
	case len(w.level):
		return float64(rows)
	}
	return w.at[block][k]
}

// trace follows all edges from block to block. In each block it finds their likeliest rows
// together, pulled toward the neighbours' with a slack in rows (standard deviation). kappa is
// how many rows of grain count as one sample.
func (f *field) trace(edges warp, looks []look, kappa, slack float64) {
	if len(edges.level) == 0 {
		return
	}
	costs := make([][]float64, f.blocks)
	var crew sync.WaitGroup
	for first := range tracers {
		crew.Go(func() {
			for b := first; b < f.blocks; b += tracers {
				costs[b] = f.costs(looks, b, kappa)
			}
		})
	}
	crew.Wait()
	path := newPath(len(edges.level), f.rows)
	for b := range f.blocks {
		f.settle(edges, costs[b], b, slack, path)
	}
	for b := f.blocks - 1; b >= 0; b-- {
		f.settle(edges, costs[b], b, slack, path)
	}
}

// tracers is how many goroutines share the blocks.
const tracers = 4

// costs are prefix sums of each layer's misfit down a block.
func (f *field) costs(looks []look, block int, kappa float64) []float64 {
	column, seen := make([][3]float64, f.rows), make([]bool, f.rows) // side by side, since every layer reads them
	for r := range f.rows {
		column[r], seen[r] = f.at(r, block)
	}
	costs := make([]float64, len(looks)*(f.rows+1))
	for k := range looks {
		look, row, sum := looks[k], costs[k*(f.rows+1):(k+1)*(f.rows+1)], 0.0
		for r, lab := range column {
			if seen[r] {
				sum += look.misfit(lab) / kappa
			}
			row[r+1] = sum
		}
	}
	return costs
}

// path is room for the search in one block.
type path struct {
	best []float64 // least cost of the edges so far, the last of them at each row
	from []int32   // for each edge and row, the row of the edge above
}

func newPath(edges, rows int) *path {
	return &path{make([]float64, rows+1), make([]int32, edges*(rows+1))}
}

// settle finds the rows of all edges in a block with the least total cost.
func (f *field) settle(edges warp, costs []float64, block int, slack float64, path *path) {
	n, k := f.rows, len(edges.level)
	best, from := path.best, path.from
	centres := edges.pulled(block)
	for e := range k {
		above, below := costs[e*(n+1):(e+1)*(n+1)], costs[(e+1)*(n+1):(e+2)*(n+1)]
		least, at := math.Inf(1), int32(0)
		for r := range n + 1 {
			start := above[r] // the first layer starts at the top
			if e > 0 {
				if best[r] < least {
					least, at = best[r], int32(r)
				}
				start = least + above[r]
			}
			off := (float64(r) - centres[e]) / slack
			from[e*(n+1)+r] = at
			best[r] = start + off*off - below[r]
		}
	}
	last := 0
	for r := range best {
		if best[r]+costs[k*(n+1)+n] < best[last]+costs[k*(n+1)+n] {
			last = r
		}
	}
	for e := k - 1; e >= 0; e-- {
		edges.at[block][e] = float64(last)
		last = int(from[e*(n+1)+last])
	}
}

// pulled is where a block's neighbours have its edges, with the block's own rows as a weak
// anchor.
func (w warp) pulled(block int) []float64 {
	out := make([]float64, len(w.level))
	for e := range out {
		sum, n := w.at[block][e], 1.0
		for _, near := range []int{block - 1, block + 1} {
			if near >= 0 && near < len(w.at) {
				sum += 2 * w.at[near][e]
				n += 2
			}
		}
		out[e] = sum / n
	}
	return out
}
