package trend

import (
	"math"
	"slices"
)

// A solution is the course under one prior: its parameters, how open they are, and how likely the
// readings are under that prior.
type solution struct {
	*arrow
	factored equations
	mean     []float64
	evidence float64 // logarithm, but for a constant that all solutions of one set of readings share
}

// solve adds the course's prior, as inverse variances, to its equations.
func (a *arrow) solve(precisions []float64) *solution {
	s := &solution{arrow: a, factored: equations{n: a.size, matrix: slices.Clone(a.shared.matrix)}, mean: slices.Clone(a.right)}
	product := 1.0
	for i, p := range precisions {
		s.factored.matrix[i*a.size+i] += p
		if product *= p; product > 1e200 || product < 1e-200 {
			s.evidence += math.Log(product) / 2
			product = 1
		}
	}
	s.factored.factor()
	s.factored.forward(s.mean)
	s.evidence += (math.Log(product) - a.logDet - s.factored.logDet - a.square + dot(s.mean, s.mean)) / 2
	s.factored.backward(s.mean)
	return s
}

// value is a target's mean.
func (s *solution) value(t *target) float64 { return t.constant + dot(t.reduced, s.mean) }

// open is a target's reduced part solved by the factor alone: the products of two are their
// covariance, the stations' own parts aside.
func (s *solution) open(t *target) []float64 {
	out := slices.Clone(t.reduced)
	s.factored.forward(out)
	return out
}

// station are a station's own parameters.
func (s *solution) station(i int) []float64 {
	b := &s.blocks[i]
	own := make([]float64, b.own.n)
	for k := range own {
		own[k] = -dot(b.across[k*s.size:(k+1)*s.size], s.mean)
	}
	b.own.solve(own)
	for k := range own {
		own[k] += b.solved[k]
	}
	return own
}

// expected is what a reading at a time would be, given the station's own parameters; row and off have
// room for what each parameter adds.
func (s *solution) expected(t float64, station int, own, row, off []float64) float64 {
	s.course.at(t, row)
	s.course.station(s.blocks[station].removals, t, off)
	return dot(row, s.mean) + dot(off, own)
}
