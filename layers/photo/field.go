package photo

import (
	"math"
	"slices"

	"panecore/palette"
)

// field is the strip under corrected light in blocks, each a few cells wide and one row high.
type field struct {
	rows, blocks int
	pitch        float64      // mm per row
	width        float64      // mm per block
	lab          [][3]float64 // row by row; L*, a*, b*
	seen         []bool       // enough of the block is unmasked
	wide         int          // cells per block
	glare        []bool       // the grid's cells under glare
	veiled       []bool       // blocks masked for light reflected by the pane
	cols         int          // cells in a row
	log          []float32    // the cells' ln luminance; not a number: not seen
}

// A block is blockWidth mm wide, or less where fewer than leastBlocks would fit: narrow enough
// to follow a wavy boundary, wide enough to average grains (assumptions).
const (
	blockWidth  = 1.0
	leastBlocks = 8
)

// A burnt cell has many over-exposed pixels. Glare is where most cells within glareReach of a
// burnt one are burnt too (assumptions).
const (
	glareBurnt  = 0.25 // share of a cell's pixels
	glareAround = 0.5  // share of the cells
	glareReach  = 0.6  // mm on each side
	blockSeen   = 0.5  // share of a block's cells that must be unmasked
)

func newField(g *grid, c *correction) *field {
	wide := max(1, min(int(math.Round(blockWidth/g.pitch)), g.cols/leastBlocks))
	f := &field{wide: wide, rows: g.rows, blocks: max(1, g.cols/wide), pitch: g.pitch, width: g.pitch * float64(wide)}
	n := f.rows * f.blocks
	f.lab, f.seen, f.veiled = make([][3]float64, n), make([]bool, n), make([]bool, n)
	f.glare = g.glare()
	f.cols, f.log = g.cols, g.logs(f.glare)
	for r := range f.rows {
		for b := range f.blocks {
			var sum palette.Linear
			n := 0
			for col := b * wide; col < (b+1)*wide; col++ {
				at := r*g.cols + col
				if g.pixels[at] == 0 || f.glare[at] {
					continue
				}
				n++
				for ch, v := range g.light[at] {
					sum[ch] += v
				}
			}
			if float64(n) < blockSeen*float64(wide) {
				continue
			}
			for ch := range sum {
				sum[ch] /= float64(n)
			}
			lab := c.apply(sum).Lab()
			f.lab[r*f.blocks+b], f.seen[r*f.blocks+b] = [3]float64{lab.L, lab.A, lab.B}, true
		}
	}
	return f
}

// glare marks burnt cells among others, and their neighbours, and what a keeper painted out. The former are reflections;
// single burnt cells are bright grains.
func (g *grid) glare() []bool {
	burnt := make([]bool, len(g.pixels))
	for at := range burnt {
		burnt[at] = g.pixels[at] > 0 && float64(g.burnt[at]) >= glareBurnt*float64(g.pixels[at])
	}
	mask := make([]bool, len(g.pixels))
	reach := max(2, int(math.Round(glareReach/g.pitch)))
	for r := range g.rows {
		for c := range g.cols {
			if !burnt[r*g.cols+c] || g.around(burnt, r, c, reach) < glareAround {
				continue
			}
			for y := max(0, r-reach); y <= min(g.rows-1, r+reach); y++ {
				for x := max(0, c-reach); x <= min(g.cols-1, c+reach); x++ {
					mask[y*g.cols+x] = true
				}
			}
		}
	}
	g.paintOut(mask)
	return mask
}

// around is the share of marked cells around a cell, up to reach on each side.
func (g *grid) around(marked []bool, row, column, reach int) float64 {
	n, all := 0, 0
	for y := max(0, row-reach); y <= min(g.rows-1, row+reach); y++ {
		for x := max(0, column-reach); x <= min(g.cols-1, column+reach); x++ {
			all++
			if marked[y*g.cols+x] {
				n++
			}
		}
	}
	return float64(n) / float64(all)
}

// at is a block's colour; false: it was not seen.
func (f *field) at(row, block int) ([3]float64, bool) {
	i := row*f.blocks + block
	return f.lab[i], f.seen[i]
}

// median is the median of a list, which it reorders; NaN if the list is empty.
func median(list []float64) float64 {
	n := len(list)
	if n == 0 {
		return math.NaN()
	}
	upper := selectNth(list, n/2)
	if n%2 == 1 {
		return upper
	}
	return (slices.Max(list[:n/2]) + upper) / 2
}

// selectNth returns the n-th smallest of a list, and reorders it so that smaller ones come
// before it (Hoare's quickselect).
func selectNth(list []float64, n int) float64 {
	low, high := 0, len(list)-1
	for low < high {
		pivot := list[(low+high)/2]
		i, j := low, high
		for i <= j {
			for list[i] < pivot {
				i++
			}
			for list[j] > pivot {
				j--
			}
			if i <= j {
				list[i], list[j] = list[j], list[i]
				i++
				j--
			}
		}
		switch {
		case n <= j:
			high = j
		case n >= i:
			low = i
		default:
			return list[n]
		}
	}
	return list[n]
}

// madScale turns the median absolute deviation of a normal distribution into its standard
// deviation.
const madScale = 1.4826

// spread is a list's standard deviation by its median absolute deviation. It overwrites the
// list.
func spread(list []float64, middle float64) float64 {
	for i, v := range list {
		list[i] = math.Abs(v - middle)
	}
	return madScale * median(list)
}
