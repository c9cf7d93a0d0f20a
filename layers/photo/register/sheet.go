package register

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"panecore/layers/photo/picture"
)

// sheetSide is the longer side of a picture that is compared with another, pixels (assumption: a tick of a millimetre is
// still seen in most).
const sheetSide = 1000.0

// sheet is a small grey copy of a picture, to be compared with another.
type sheet struct {
	w, h  int
	by    float64 // pixels of the picture per pixel of the sheet
	grey  []float32
	spots []spot
}

// spot is a place that looks unlike its surroundings whichever way it is shifted.
type spot struct {
	x, y     float64
	strength float32
}

func newSheet(p *picture.Picture) *sheet {
	by := max(1, float64(max(p.Width, p.Height))/sheetSide)
	s := &sheet{w: max(1, int(float64(p.Width)/by)), h: max(1, int(float64(p.Height)/by)), by: by}
	s.grey = make([]float32, s.w*s.h)
	var crew sync.WaitGroup
	for i := range workers {
		crew.Go(func() {
			row := make([]picture.Light, p.Width)
			for y := s.h * i / workers; y < s.h*(i+1)/workers; y++ {
				s.shrink(p, row, y)
			}
		})
	}
	crew.Wait()
	s.grey = s.blurred(s.grey)
	s.spots = s.findSpots()
	return s
}

// workers is how many goroutines share the rows or spots.
const workers = 2

// shrink fills in a row by the mean root of the light: steps in shade and in the sun weigh more alike than in the light itself.
func (s *sheet) shrink(p *picture.Picture, row []picture.Light, y int) {
	sums, counts := make([]float32, s.w), make([]float32, s.w)
	for from := int(float64(y) * s.by); from < min(p.Height, max(int(float64(y)*s.by)+1, int(float64(y+1)*s.by))); from++ {
		p.Row(row, 0, from)
		for x, light := range row {
			if to := int(float64(x) / s.by); to < s.w {
				sums[to] += float32(light[0])/4 + float32(light[1])/2 + float32(light[2])/4
				counts[to]++
			}
		}
	}
	for x := range sums {
		s.grey[y*s.w+x] = float32(math.Sqrt(float64(sums[x] / max(1, counts[x]) / 65535)))
	}
}

// blurred is a grey picture under the binomial weights 1 2 1, twice each way.
func (s *sheet) blurred(grey []float32) []float32 {
	out := slices.Clone(grey)
	for range 2 {
		was := slices.Clone(out)
		for y := range s.h {
			for x := range s.w {
				at := y*s.w + x
				l, r := at-min(1, x), at+min(1, s.w-1-x)
				out[at] = (was[l] + 2*was[at] + was[r]) / 4
			}
		}
		was = slices.Clone(out)
		for y := range s.h {
			up, down := (y-min(1, y))*s.w, (y+min(1, s.h-1-y))*s.w
			for x := range s.w {
				out[y*s.w+x] = (was[up+x] + 2*was[y*s.w+x] + was[down+x]) / 4
			}
		}
	}
	return out
}

// How spots are chosen (assumptions).
const (
	spotAround = 3  // pixels on each side that make a spot's strength
	spotApart  = 5  // pixels between two spots, at least
	spotCell   = 50 // pixels of a cell, of which each gives as many spots, so that grains don't take them all
	spotsEach  = 5
	spotMargin = 16 // pixels from the sheet's sides
)

// findSpots finds the strongest corners of each part of the sheet, by the lesser eigenvalue of the gradients' products (Shi
// and Tomasi 1994).
func (s *sheet) findSpots() []spot {
	strength := s.corners()
	var list []spot
	for top := spotMargin; top < s.h-spotMargin; top += spotCell {
		for left := spotMargin; left < s.w-spotMargin; left += spotCell {
			list = append(list, s.strongest(strength, left, top)...)
		}
	}
	return list
}

func (s *sheet) strongest(strength []float32, left, top int) []spot {
	var list []spot
	for y := top; y < min(top+spotCell, s.h-spotMargin); y++ {
		for x := left; x < min(left+spotCell, s.w-spotMargin); x++ {
			if v := strength[y*s.w+x]; v > faintestSpot && s.isPeak(strength, x, y) {
				list = append(list, spot{float64(x), float64(y), v})
			}
		}
	}
	slices.SortFunc(list, func(a, b spot) int { return cmp.Compare(b.strength, a.strength) })
	return list[:min(len(list), spotsEach)]
}

// faintestSpot is the least strength of a corner: a step of about 2 % of white each way (assumption).
const faintestSpot = 0.0004

func (s *sheet) isPeak(strength []float32, x, y int) bool {
	v := strength[y*s.w+x]
	for dy := -spotApart; dy <= spotApart; dy++ {
		for dx := -spotApart; dx <= spotApart; dx++ {
			if strength[(y+dy)*s.w+x+dx] > v {
				return false
			}
		}
	}
	return true
}

// corners are the strengths of all places.
func (s *sheet) corners() []float32 {
	n := s.w * s.h
	xx, xy, yy := make([]float32, n), make([]float32, n), make([]float32, n)
	for y := 1; y < s.h-1; y++ {
		for x := 1; x < s.w-1; x++ {
			at := y*s.w + x
			dx, dy := (s.grey[at+1]-s.grey[at-1])/2, (s.grey[at+s.w]-s.grey[at-s.w])/2
			xx[at], xy[at], yy[at] = dx*dx, dx*dy, dy*dy
		}
	}
	for _, product := range [][]float32{xx, xy, yy} {
		s.sumAround(product)
	}
	for at := range xx {
		half, apart := (xx[at]+yy[at])/2, (xx[at]-yy[at])/2
		xx[at] = half - float32(math.Sqrt(float64(apart*apart+xy[at]*xy[at])))
	}
	return xx
}

// sumAround replaces values by their sums over the square around each.
func (s *sheet) sumAround(values []float32) {
	line := make([]float32, max(s.w, s.h))
	sum := func(at, step, count int) {
		for i := range count {
			line[i] = values[at+i*step]
		}
		var total float32
		for i := -spotAround; i < count; i++ {
			if i+spotAround < count {
				total += line[i+spotAround]
			}
			if i-spotAround-1 >= 0 {
				total -= line[i-spotAround-1]
			}
			if i >= 0 {
				values[at+i*step] = total
			}
		}
	}
	for y := range s.h {
		sum(y*s.w, 1, s.w)
	}
	for x := range s.w {
		sum(x, s.w, s.h)
	}
}

// at is the grey between pixels; beyond the sides that of the nearest one.
func (s *sheet) at(x, y float64) float32 {
	x, y = min(max(0, x), float64(s.w-1)), min(max(0, y), float64(s.h-1))
	left, top := min(int(x), max(0, s.w-2)), min(int(y), max(0, s.h-2))
	fx, fy := float32(x)-float32(left), float32(y)-float32(top)
	at := top*s.w + left
	right, down := min(1, s.w-1), s.w*min(1, s.h-1)
	upper := s.grey[at] + fx*(s.grey[at+right]-s.grey[at])
	lower := s.grey[at+down] + fx*(s.grey[at+down+right]-s.grey[at+down])
	return upper + fy*(lower-upper)
}

// How the surroundings of a spot are compared (assumptions).
const (
	facetSide = 9   // samples
	facetStep = 2.5 // pixels from one to the next
)

// facet are the surroundings of a place, less their mean and to the length 1, so that neither light nor contrast counts.
type facet [facetSide * facetSide]float32

// facetAt takes the surroundings of a place whose axes are turned and scaled: along is what a pixel of the facet to the right
// is on the sheet.
func (s *sheet) facetAt(x, y float64, along Point) (p facet) {
	const middle = (facetSide - 1) / 2.0
	var mean float32
	for i := range facetSide {
		for j := range facetSide {
			across, down := (float64(j)-middle)*facetStep, (float64(i)-middle)*facetStep
			v := s.at(x+across*along.X-down*along.Y, y+across*along.Y+down*along.X)
			p[i*facetSide+j] = v
			mean += v / (facetSide * facetSide)
		}
	}
	var length float32
	for i := range p {
		p[i] -= mean
		length += p[i] * p[i]
	}
	if length > 0 {
		by := 1 / float32(math.Sqrt(float64(length)))
		for i := range p {
			p[i] *= by
		}
	}
	return p
}

// like is the correlation of two facets, -1 to 1.
func (p *facet) like(q *facet) float32 {
	var a, b, c float32 // side by side: each addition waits for the one before
	for i := 0; i < len(p); i += 3 {
		a += p[i] * q[i]
		b += p[i+1] * q[i+1]
		c += p[i+2] * q[i+2]
	}
	return a + b + c
}
