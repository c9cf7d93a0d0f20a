package photo

import (
	"math"
	"slices"

	"panecore/palette"
)

// field is the strip under corrected light in blocks: a few cells side by side, one row high.
type field struct {
	rows, blocks int
	pitch        float64      // mm a row
	width        float64      // mm a block
	lab          [][3]float64 // row by row; L*, a*, b*
	seen         []bool       // enough of the block is unmasked
	masked       float64      // share of all cells masked as glare, of those in the picture
	glare        []bool       // of the grid's cells
}

// A block is blockWidth millimetres wide, or less where fewer than leastBlocks would fit:
// narrow enough to follow a wavy boundary, wide enough to average grains (assumptions).
const (
	blockWidth  = 1.0
	leastBlocks = 8
)

// Glare, as the eye takes it: burnt pixels, or a cell brighter than glareLightness with less
// chroma than glareChroma (assumptions).
const (
	glareBurnt     = 0.25 // share of a cell's pixels
	glareLightness = 92.0
	glareChroma    = 8.0
	blockSeen      = 0.5 // share of a block's cells that must be unmasked
)

func newField(g *grid, c *correction) *field {
	wide := max(1, min(int(math.Round(blockWidth/g.pitch)), g.cols/leastBlocks))
	f := &field{rows: g.rows, blocks: max(1, g.cols/wide), pitch: g.pitch, width: g.pitch * float64(wide)}
	f.lab, f.seen = make([][3]float64, f.rows*f.blocks), make([]bool, f.rows*f.blocks)
	glare := g.glare()
	f.glare = glare
	inPicture, masked := 0, 0
	for r := range f.rows {
		for b := range f.blocks {
			var sum palette.Linear
			n := 0
			for col := b * wide; col < (b+1)*wide; col++ {
				at := r*g.cols + col
				if g.pixels[at] == 0 {
					continue
				}
				inPicture++
				if glare[at] {
					masked++
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
	if inPicture > 0 {
		f.masked = float64(masked) / float64(inPicture)
	}
	return f
}

// glare marks burnt cells and their neighbours.
func (g *grid) glare() []bool {
	mask := make([]bool, len(g.pixels))
	for r := range g.rows {
		for c := range g.cols {
			at := r*g.cols + c
			if float64(g.burnt[at]) < glareBurnt*float64(g.pixels[at]) || g.pixels[at] == 0 {
				continue
			}
			for y := max(0, r-1); y <= min(g.rows-1, r+1); y++ {
				for x := max(0, c-1); x <= min(g.cols-1, c+1); x++ {
					mask[y*g.cols+x] = true
				}
			}
		}
	}
	return mask
}

// at is a block's colour and whether it was seen.
func (f *field) at(row, block int) ([3]float64, bool) {
	i := row*f.blocks + block
	return f.lab[i], f.seen[i]
}

// median of a list, which it reorders; NaN for none.
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

// selectNth puts the n-th smallest of a list at its place, smaller ones before it (Hoare's
// quickselect).
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

// madScale turns a median absolute deviation into the standard deviation of a normal one.
const madScale = 1.4826

// spread is the standard deviation of a list by its median absolute deviation.
func spread(list []float64, middle float64) float64 {
	off := make([]float64, len(list))
	for i, v := range list {
		off[i] = math.Abs(v - middle)
	}
	return madScale * median(off)
}
