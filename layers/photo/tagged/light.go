package tagged

import (
	"math"
	"sync"

	"panecore/layers/photo/picture"
)

// shade is the picture's lightness, smaller by a whole factor, 0 to 255 from black to white in steps of equal ratio: at a
// shadow's edge lit ink is still darker than the mean of what is around it, and paper in the shadow lighter.
type shade struct {
	w, h  int
	times int // pixels of the picture along a side of one of these
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

// helpers is how many goroutines share the picture's rows.
const helpers = 2

func newShade(p *picture.Picture, times int) *shade {
	s := &shade{w: p.Width / times, h: p.Height / times, times: times}
	s.v = make([]uint8, s.w*s.h)
	table := newRatios()
	var crew sync.WaitGroup
	for i := range helpers {
		crew.Go(func() {
			row, sums := make([]picture.Light, s.w*times), make([]uint32, s.w)
			for y := s.h * i / helpers; y < s.h*(i+1)/helpers; y++ {
				clear(sums)
				for k := range times {
					p.Row(row, 0, y*times+k)
					addGrey(sums, row, times)
				}
				for x, sum := range sums {
					s.v[y*s.w+x] = table[sum/uint32(times*times)>>4]
				}
			}
		})
	}
	crew.Wait()
	return s
}

// addGrey adds a row's grey, times pixels to a sum.
func addGrey(sums []uint32, row []picture.Light, times int) {
	for x := range sums {
		for _, px := range row[x*times : (x+1)*times] {
			sums[x] += (uint32(px[0]) + 2*uint32(px[1]) + uint32(px[2])) / 4
		}
	}
}

// darkerBy is by how much black is darker than what is around it, of 255 (assumption: a tenth, more than dirt).
const darkerBy = 5

// black marks what is darker than the mean of what is around it, up to reach on each side.
func (s *shade) black(reach int) []bool {
	marks := make([]bool, len(s.v))
	var crew sync.WaitGroup
	for i := range helpers {
		crew.Go(func() { s.blackRows(marks, reach, s.h*i/helpers, s.h*(i+1)/helpers) })
	}
	crew.Wait()
	return marks
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
		high := int32(min(s.h-1, y+reach) - max(0, y-reach) + 1)
		var sum, wide int32
		for x := range min(reach, s.w) {
			sum += columns[x]
			wide++
		}
		for x := range s.w {
			if x+reach < s.w {
				sum += columns[x+reach]
				wide++
			}
			at := y*s.w + x
			marks[at] = (int32(s.v[at])+darkerBy)*high*wide < sum
			if x >= reach {
				sum -= columns[x-reach]
				wide--
			}
		}
		add(y-reach, -1)
	}
}

// patch is a part of the picture in linear light, 0 to 1, smaller by a whole factor.
type patch struct {
	x, y  float64 // its corner in the picture, pixels
	times int
	w, h  int
	v     []float32
}

// newPatch reads a part of the picture, as far as it is inside.
func newPatch(p *picture.Picture, x0, y0, x1, y1 float64, times int) *patch {
	left, top := max(0, int(x0)), max(0, int(y0))
	c := &patch{x: float64(left), y: float64(top), times: times}
	c.w, c.h = max(0, min(p.Width, int(x1))-left)/times, max(0, min(p.Height, int(y1))-top)/times
	c.v = make([]float32, c.w*c.h)
	row, sums := make([]picture.Light, c.w*times), make([]uint32, c.w)
	for y := range c.h {
		clear(sums)
		for k := range times {
			p.Row(row, left, top+y*times+k)
			addGrey(sums, row, times)
		}
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
