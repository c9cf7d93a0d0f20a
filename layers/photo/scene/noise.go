package scene

import "math"

// A noise is a field of numbers that is the same wherever it is asked: value noise
// on the lattice of whole numbers.
type noise uint32

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
	s := uint32(n)
	a, b := unit(hash(i, j, s)), unit(hash(i+1, j, s))
	c, d := unit(hash(i, j+1, s)), unit(hash(i+1, j+1, s))
	a += (b - a) * u
	c += (d - c) * u
	return 2*(a+(c-a)*v) - 1
}

// sum adds octaves, each half as wide and half as strong as the last; about -1 to 1.
func (n noise) sum(x, y float32, octaves int) float32 {
	var total, weight float32
	amp := float32(1)
	for k := range octaves {
		// Each octave is turned, so that the lattices' lines don't add up.
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
