package tagged

import (
	"math"
	"sync"

	"panecore/layers/photo/picture"
)

// grey is the picture's linear light, smaller by a whole factor, white at 65535.
type grey struct {
	w, h  int
	times int // pixels of the picture along a side of one of these
	v     []uint16
}

// helpers is how many goroutines share the picture's rows.
const helpers = 2

// share has them work on a height's rows.
func share(height int, work func(part, from, to int)) {
	var crew sync.WaitGroup
	for i := range helpers {
		crew.Go(func() { work(i, height*i/helpers, height*(i+1)/helpers) })
	}
	crew.Wait()
}

func newGrey(p *picture.Picture) *grey {
	g := &grey{p.Width, p.Height, 1, make([]uint16, p.Width*p.Height)}
	share(g.h, func(_, from, to int) {
		row := make([]picture.Light, g.w)
		for y := from; y < to; y++ {
			p.Row(row, 0, y)
			out := g.row(y)
			for x, px := range row {
				out[x] = uint16((uint32(px[0]) + 2*uint32(px[1]) + uint32(px[2])) / 4)
			}
		}
	})
	return g
}

func (g *grey) row(y int) []uint16 { return g.v[y*g.w : (y+1)*g.w] }

// smaller is the same light, smaller by a whole factor.
func (g *grey) smaller(times int) *grey {
	if times == 1 {
		return g
	}
	s := &grey{w: g.w / times, h: g.h / times, times: g.times * times}
	s.v = make([]uint16, s.w*s.h)
	share(s.h, func(_, from, to int) {
		sums := make([]uint32, s.w)
		for y := from; y < to; y++ {
			g.sum(sums, 0, y*times, times)
			out := s.row(y)
			for x, sum := range sums {
				out[x] = uint16(sum / uint32(times*times))
			}
		}
	})
	return s
}

// sum adds up squares of times by times along a row, from a place on.
func (g *grey) sum(sums []uint32, left, top, times int) {
	clear(sums)
	for y := top; y < top+times; y++ {
		row := g.row(y)[left:]
		for x := range sums {
			for _, v := range row[x*times : (x+1)*times] {
				sums[x] += uint32(v)
			}
		}
	}
}

// shade is the picture's lightness, smaller by a whole factor, 0 to 255 from black to white in steps of equal ratio: at a
// shadow's edge lit ink is still darker than the mean of what is around it, and paper in the shadow lighter.
type shade struct {
	w, h  int
	times int // as a grey's
	v     []uint8
}

// ratios are the lightness of 12-bit light.
type ratios [1 << 12]uint8

// darkest is the light, white at 1, below which steps become even: noise (assumption).
const darkest = 0.01

func newRatios() *ratios {
	table := new(ratios)
	for i := range table {
		light := float64(i) / float64(len(table)-1)
		table[i] = uint8(255 * math.Log1p(light/darkest) / math.Log1p(1/darkest))
	}
	return table
}

func (g *grey) shade() *shade {
	s := &shade{g.w, g.h, g.times, make([]uint8, len(g.v))}
	steps := newRatios()
	share(s.h, func(_, from, to int) {
		out := s.v[from*s.w : to*s.w]
		for i, v := range g.v[from*s.w : to*s.w][:len(out)] {
			out[i] = steps[v>>4]
		}
	})
	return s
}

// darkerBy is by how much black is darker than what is around it, of 255 (assumption: a tenth, more than dirt).
const darkerBy = 5

// black marks what is darker than the mean of what is around it, up to reach on each side.
func (s *shade) black(marks []bool, reach int) {
	share(s.h, func(_, from, to int) { s.blackRows(marks, reach, from, to) })
}

func (s *shade) blackRows(marks []bool, reach, from, to int) {
	columns := make([]int32, s.w) // sums of the rows in reach
	add := func(y int, sign int32) {
		if y >= 0 && y < s.h {
			for x, v := range s.v[y*s.w : (y+1)*s.w] {
				columns[x] += sign * int32(v)
			}
		}
	}
	for y := from - reach; y < from+reach; y++ {
		add(y, 1)
	}
	for y := from; y < to; y++ {
		add(y+reach, 1)
		high := min(s.h-1, y+reach) - max(0, y-reach) + 1
		blackRow(marks[y*s.w:(y+1)*s.w], s.v[y*s.w:(y+1)*s.w], columns, reach, int32(high))
		add(y-reach, -1)
	}
}

// blackRow marks a row by the sums of so many rows around it.
func blackRow(marks []bool, row []uint8, columns []int32, reach int, high int32) {
	w := len(row)
	var sum int32 // of the columns in reach
	for _, v := range columns[:min(reach, w)] {
		sum += v
	}
	edge := func(from, to int) { // where they end at the picture's
		for x := from; x < to; x++ {
			if x+reach < w {
				sum += columns[x+reach]
			}
			wide := int32(min(w-1, x+reach) - max(0, x-reach) + 1)
			marks[x] = (int32(row[x])+darkerBy)*high*wide < sum
			if x >= reach {
				sum -= columns[x-reach]
			}
		}
	}
	first, last := min(reach, w), max(min(reach, w), w-reach)
	edge(0, first)
	if n := last - first; n > 0 {
		inner, out, behind, ahead := row[first:last], marks[first:last][:n], columns[:n], columns[2*reach:][:n]
		all := high * int32(2*reach+1)
		for i, v := range inner[:n] {
			sum += ahead[i]
			out[i] = (int32(v)+darkerBy)*all < sum
			sum -= behind[i]
		}
	}
	edge(last, w)
}

// patch is a part of the picture in linear light, 0 to 1, smaller by a whole factor.
type patch struct {
	x, y  float64 // its corner in the picture, pixels
	times int
	w, h  int
	v     []float32
}

// patch reads a part of the picture, as far as it is inside.
func (g *grey) patch(x0, y0, x1, y1 float64, times int) *patch {
	left, top := max(0, int(x0)), max(0, int(y0))
	c := &patch{x: float64(left), y: float64(top), times: times}
	c.w, c.h = max(0, min(g.w, int(x1))-left)/times, max(0, min(g.h, int(y1))-top)/times
	c.v = make([]float32, c.w*c.h)
	sums := make([]uint32, c.w)
	for y := range c.h {
		g.sum(sums, left, top+y*times, times)
		for x, sum := range sums {
			c.v[y*c.w+x] = float32(sum) / float32(65535*times*times)
		}
	}
	return c
}

// at is the light at a place in the patch's own pixels, between their middles by bilinear interpolation.
func (c *patch) at(x, y float64) (light float64, inside bool) {
	x, y = x-0.5, y-0.5
	col, row := int(math.Floor(x)), int(math.Floor(y))
	if col < 0 || row < 0 || col+1 >= c.w || row+1 >= c.h {
		return 0, false
	}
	fx, fy := x-float64(col), y-float64(row)
	a := c.v[row*c.w+col : row*c.w+col+2]
	b := c.v[(row+1)*c.w+col : (row+1)*c.w+col+2]
	return (1-fy)*((1-fx)*float64(a[0])+fx*float64(a[1])) + fy*((1-fx)*float64(b[0])+fx*float64(b[1])), true
}
