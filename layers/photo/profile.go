package photo

import (
	"math"
	"sort"
	"sync"
)

// warp maps rows of the levelled profile to rows of the strip in each block: linearly between
// knots, and beyond them by the nearest knot's shift.
type warp struct {
	level []float64   // rows of the knots in the levelled profile, ascending
	at    [][]float64 // the same knots in each block
}

// row is the row of a block that a levelled row maps to.
func (w warp) row(level float64, block int) float64 {
	n := len(w.level)
	if n == 0 {
		return level
	}
	at := w.at[block]
	i := sort.SearchFloat64s(w.level, level)
	switch i {
	case 0:
		return level + at[0] - w.level[0]
	case n:
		return level + at[n-1] - w.level[n-1]
	}
	share := (level - w.level[i-1]) / (w.level[i] - w.level[i-1])
	return at[i-1] + share*(at[i]-at[i-1])
}

// quietest is the least standard error of a row's colour, CIELAB units (assumption: what JPEG
// and rounding leave).
const quietest = 0.3

// level is the levelled profile: in each row every channel's median over the visible blocks,
// weighted by how well they agree.
func (f *field) level(w warp) signal {
	s := signal{make([][3]float64, f.rows), make([][3]float64, f.rows)}
	errors := make([][3]float64, f.rows)
	var crew sync.WaitGroup
	for first := range levellers {
		crew.Go(func() {
			var channel [3][]float64
			for r := first; r < f.rows; r += levellers {
				f.levelRow(w, r, s, errors, &channel)
			}
		})
	}
	crew.Wait()
	f.weigh(s, errors)
	return s
}

// levellers is how many goroutines share the rows.
const levellers = 4

// levelRow fills in one row; channel is room for the blocks' values.
func (f *field) levelRow(w warp, r int, s signal, errors [][3]float64, channel *[3][]float64) {
	for c := range channel {
		channel[c] = channel[c][:0]
	}
	for b := range f.blocks {
		at := int(math.Floor(w.row(float64(r)+0.5, b)))
		if at < 0 || at >= f.rows {
			continue
		}
		if lab, ok := f.at(at, b); ok {
			for c := range channel {
				channel[c] = append(channel[c], lab[c])
			}
		}
	}
	n := len(channel[0])
	if float64(n) < leastRowSeen*float64(f.blocks) || n == 0 {
		return
	}
	for c := range channel {
		middle := median(channel[c])
		s.value[r][c] = middle
		errors[r][c] = medianError * spread(channel[c], middle) / math.Sqrt(float64(n))
		s.weight[r][c] = 1 // the row counts; weigh sets its weight
	}
}

// medianError is the standard error of a normal sample's median over that of its mean, √(π/2).
const medianError = 1.2533

// leastRowSeen is the share of visible blocks that a row needs to count (assumption).
const leastRowSeen = 0.4

// smoothedRows is how far around a row its error is averaged, mm, since a single row's error is
// too rough (assumption).
const smoothedRows = 1.0

// weigh sets the weights of the rows that count, by their errors smoothed along depth.
func (f *field) weigh(s signal, errors [][3]float64) {
	reach := int(math.Round(smoothedRows / f.pitch))
	var window []float64
	for r := range s.value {
		if s.weight[r][0] == 0 {
			continue
		}
		for c := range 3 {
			window = window[:0]
			for i := max(0, r-reach); i <= min(f.rows-1, r+reach); i++ {
				if s.weight[i][0] != 0 {
					window = append(window, errors[i][c])
				}
			}
			e := median(window)
			s.weight[r][c] = 1 / (quietest*quietest + e*e)
		}
	}
}
