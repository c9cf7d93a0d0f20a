package trend

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A spread is how much the spots of a floor differ, as far as a few stations tell: standard
// deviations with their probabilities.
type spread struct {
	deviations []float64
	cumulative []float64
	stations   int
}

// A usual spread is what is thought of one before the stations are read: none at all with a
// probability of alike, else a log-normal about the middle.
type usualSpread struct{ middle, alike float64 }

// How open a usual spread is, in logarithms (assumptions, tried in worlds where rates differ by 0 to 30 %):
// so wide that two stations and more speak for themselves, but no wider than beds are where there is only
// one, which shows nothing of it.
const (
	spreadOpen  = 3.0
	spreadAlone = 0.6
	spreadStep  = 0.45
	spreadBelow = -8 // steps, where it is cut off
	spreadAbove = 4
)

// spreadOf weighs what is usual against how far stations stand from their mean; noise are the
// variances with which that is known.
func spreadOf(usual usualSpread, values, noise []float64) spread {
	s := spread{stations: len(values)}
	open := spreadOpen
	if len(values) < 2 {
		open = spreadAlone
	}
	var weights []float64
	var before float64
	for k := spreadBelow; k <= spreadAbove; k++ {
		z := spreadStep * float64(k)
		weight := math.Exp(logNormal(z, open*open))
		s.deviations, weights, before = append(s.deviations, usual.middle*math.Exp(z)), append(weights, (1-usual.alike)*weight), before+weight
	}
	s.deviations, weights = append(s.deviations, 0), append(weights, usual.alike*before)
	logs, most := make([]float64, len(weights)), math.Inf(-1)
	for k, deviation := range s.deviations {
		logs[k] = logApart(deviation*deviation, values, noise)
		most = max(most, logs[k])
	}
	var sum float64
	for k, weight := range weights {
		sum += weight * math.Exp(logs[k]-most)
		s.cumulative = append(s.cumulative, sum)
	}
	for k := range s.cumulative {
		s.cumulative[k] /= sum
	}
	return s
}

// logApart is the logarithm of how likely values stand so far from their mean, whatever that is.
func logApart(variance float64, values, noise []float64) (l float64) {
	var weights, sum float64
	for i, x := range values {
		v := variance + noise[i]
		weights += 1 / v
		sum += x / v
	}
	if len(values) < 2 {
		return 0
	}
	for i, x := range values {
		l += logNormal(x-sum/weights, variance+noise[i])
	}
	return l - math.Log(weights)/2
}

// draw is one possible deviation of the floor's mean from that of its stations, over a normal
// deviate; u is uniform.
func (s *spread) draw(u float64) float64 {
	k := 0
	for k < len(s.cumulative)-1 && s.cumulative[k] < u {
		k++
	}
	return s.deviations[k] / math.Sqrt(float64(max(1, s.stations)))
}

// looseOffset and looseRate are the prior deviations under which a station's own offset and rate are
// told by its readings alone, mm and mm a month.
const looseOffset, looseRate = 100.0, 10.0

// alone are a station's level and rate beside the course as its own readings show them, with their
// variances.
func (s *solution) alone(w *weighing, station int) (level, rate, levelVar, rateVar float64) {
	removals := w.removals[station]
	e := spreads{offset: looseOffset, rate: looseRate, taken: w.prior.taken}.equations(takenAt + len(removals))
	row, off, right := make([]float64, s.size), make([]float64, e.n), make([]float64, e.n)
	for _, i := range w.by[station] {
		r := w.record.Readings[i]
		s.course.at(r.T, row)
		s.course.station(removals, r.T, off)
		weight := w.sound[i] / (w.error(r) * w.error(r))
		e.add(weight, off)
		residual := w.left(r) - dot(row, s.mean)
		for n, x := range off {
			right[n] += weight * residual * x
		}
	}
	e.factor()
	e.forward(right)
	of := func() (value, variance float64) {
		e.forward(off)
		return dot(off, right), dot(off, off)
	}
	s.course.station(removals, s.course.now, off)
	level, levelVar = of()
	s.course.stationSlope(removals, off)
	rate, rateVar = of()
	return level, rate, levelVar, rateVar
}

// differLevel is the confidence above which stations count as having different rates (assumption).
const differLevel = 0.95

// differ reports rates that stand further apart than their noise explains, by chi-square.
func differ(rates, noise []float64) bool {
	var weights, sum, chiSquare float64
	for i, x := range rates {
		weights += 1 / noise[i]
		sum += x / noise[i]
	}
	for i, x := range rates {
		chiSquare += (x - sum/weights) * (x - sum/weights) / noise[i]
	}
	freedom := len(rates) - 1
	return freedom > 0 && chiSquare > distuv.ChiSquared{K: float64(freedom)}.Quantile(differLevel)
}
