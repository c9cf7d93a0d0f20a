package testscene

import "math"

// A noise is a fixed field of random numbers: value noise on the lattice of whole numbers. It
// repeats after 256 units.
type noise uint32

// lattice holds the numbers of all noises; each starts at its own corner.
var lattice = newLattice()

func newLattice() *[1 << 16]float32 {
	var t [1 << 16]float32
	for i := range t {
		t[i] = 2*unit(hash(int32(i), 0, 1)) - 1
	}
	return &t
}

// hash mixes a lattice point and a seed into 32 bits.
func hash(x, y int32, seed uint32) uint32 {
	h := uint32(x)*0x9e3779b1 ^ uint32(y)*0x85ebca77 ^ seed*0xc2b2ae3d
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 12
	h *= 0x297a2d39
	return h ^ h>>15
}

// unit maps 32 bits to [0, 1).
func unit(h uint32) float32 { return float32(h>>8) * (1.0 / (1 << 24)) }

func floor(x float32) int32 {
	i := int32(x)
	if float32(i) > x {
		i--
	}
	return i
}

// at is the noise at a point, from -1 to 1; features are about one unit wide.
func (n noise) at(x, y float32) float32 {
	i, j := floor(x), floor(y)
	u, v := x-float32(i), y-float32(j)
	u, v = u*u*(3-2*u), v*v*(3-2*v)
	corner := uint32(n) * 0x9e3779b1
	p, q := uint32(i)+corner>>24, uint32(j)+corner>>16
	p0, p1, q0, q1 := p&255, (p+1)&255, q&255<<8, (q+1)&255<<8
	a, b := lattice[q0|p0], lattice[q0|p1]
	c, d := lattice[q1|p0], lattice[q1|p1]
	a += (b - a) * u
	c += (d - c) * u
	return a + (c-a)*v
}

// sum adds octaves, each half as wide and half as strong as the last; about -1 to 1.
func (n noise) sum(x, y float32, octaves int) float32 {
	var total, weight float32
	amp := float32(1)
	for k := range octaves {
		// Each octave is turned, so that the lines of the lattices don't add up.
		total += amp * (n+noise(k)*7919).at(x, y)
		weight += amp
		amp *= 0.5
		x, y = 1.7*x-1.05*y+13.7, 1.05*x+1.7*y+5.3
	}
	return total / weight
}

func clamp(x, low, high float32) float32 { return max(low, min(high, x)) }

// step rises smoothly from 0 at a to 1 at b.
func step(a, b, x float32) float32 {
	t := clamp((x-a)/(b-a), 0, 1)
	return t * t * (3 - 2*t)
}

func sqrt(x float32) float32 { return float32(math.Sqrt(float64(x))) }

func mix(a, b, t float32) float32 { return a + (b-a)*t }

// coarse is a slowly changing field, computed only at every eighth pixel.
type coarse struct {
	w      int
	values []float32
}

const coarseStep = 8 // px

func newCoarse(w, h int, at func(x, y float32) float32) *coarse {
	c := &coarse{w: w/coarseStep + 2}
	for y := range h/coarseStep + 2 {
		for x := range c.w {
			c.values = append(c.values, at(float32(x*coarseStep), float32(y*coarseStep)))
		}
	}
	return c
}

func (c *coarse) at(x, y int) float32 {
	k := y/coarseStep*c.w + x/coarseStep
	u, v := float32(x%coarseStep)*(1.0/coarseStep), float32(y%coarseStep)*(1.0/coarseStep)
	top := mix(c.values[k], c.values[k+1], u)
	return mix(top, mix(c.values[k+c.w], c.values[k+c.w+1], u), v)
}
