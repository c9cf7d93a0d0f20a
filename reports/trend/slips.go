package trend

import (
	"math"
	"slices"
)

// usualSlip is how likely any reading is a slip (assumption: one in thirty or so is typed wrongly).
const usualSlip = 0.03

// weighing are the sightings of a record with the probability that each is sound, and how far the
// sound ones stray. They are found by turns: the course through the sound ones, then which are sound
// (a mixture of a normal and a wide uniform error, by expectation and maximisation).
type weighing struct {
	record   *Record
	by       [][]int // readings of each station
	removals [][]float64
	sound    []float64 // by reading
	spot     float64   // how far the bed at one spot strays, mm
	freedom  float64   // how many readings the straying is known from
	growth   float64   // usual, mm a month
	middle   float64   // mm, which the equations leave out
	prior    spreads
	turn     *Turn // nil: none
}

// turns is how many times course and slips are found by turns (assumption: more change nothing).
const turns = 4

// flexible is the drift under which slips are told, mm a month in a month: enough to bend with a bed
// that changes, too little to follow a slip (assumption).
const flexible = 0.35

// freedomPrior is how many readings the usual straying of a spot counts for (assumption).
const freedomPrior = 8.0

func weigh(r *Record, turn *Turn) *weighing {
	w := &weighing{record: r, turn: turn, by: r.byStation(), sound: make([]float64, len(r.Readings)), spot: spotError, freedom: freedomPrior}
	w.growth = r.usualGrowth(w.by)
	var all []float64
	for _, reading := range r.Readings {
		all = append(all, reading.Y)
	}
	w.middle = median(all)
	w.prior = spreads{offset: 2 + 0.15*math.Abs(w.middle), rate: 0.05 + 0.3*math.Abs(w.growth), taken: 30}
	w.removals = make([][]float64, len(w.by))
	for s, list := range w.by {
		w.removals[s] = r.between(list)
	}
	w.atFirst()
	c := &course{begin: r.begin(), now: r.now(), knots: knotsOf(r.begin(), r.now()), turn: turn}
	precisions := make([]float64, c.size())
	c.precisions(flexible, false, precisions)
	for range turns {
		w.compare(newArrow(c, w.sightings(), w.removals, w.prior).solve(precisions))
	}
	return w
}

// between are the removals that lie between readings of a station; several without a reading between
// them count as one.
func (r *Record) between(list []int) (kept []float64) {
	for k := 1; k < len(list); k++ {
		a, b := r.Readings[list[k-1]].T, r.Readings[list[k]].T
		if r.segment(a) < r.segment(b) {
			kept = append(kept, r.Removals[r.segment(b)-1])
		}
	}
	return kept
}

// Neighbours that a reading is first held against, and how far off it must be to count as a slip
// (assumptions).
const (
	neighbours = 2
	farOff     = 8.0 // mm
)

// atFirst holds each reading against the middle of its neighbours at the station within its segment,
// growth taken off.
func (w *weighing) atFirst() {
	readings := w.record.Readings
	for _, list := range w.by {
		for k, i := range list {
			w.sound[i] = 1 - max(usualSlip, readings[i].Slip)
			var near []float64
			for n := max(0, k-neighbours); n <= min(len(list)-1, k+neighbours); n++ {
				j := list[n]
				if n != k && w.record.segment(readings[j].T) == w.record.segment(readings[i].T) {
					near = append(near, readings[j].Y-w.growth*(readings[j].T-readings[i].T))
				}
			}
			if len(near) < 2 {
				continue
			}
			slices.Sort(near)
			off := max(near[0]-readings[i].Y, readings[i].Y-near[len(near)-1]) // beyond all of them
			if off > farOff {
				w.sound[i] *= 0.02
			}
		}
	}
}

// error is how far a sound reading strays, mm.
func (w *weighing) error(r Reading) float64 { return math.Hypot(w.spot, r.Error) }

// left is what the equations have to explain of a reading, mm.
func (w *weighing) left(r Reading) float64 { return r.Y - w.middle - w.turn.mean(r.T) }

// sightings are the readings of each station with their weights.
func (w *weighing) sightings() [][]sighting {
	out := make([][]sighting, len(w.by))
	for s, list := range w.by {
		out[s] = make([]sighting, len(list))
		for k, i := range list {
			r := w.record.Readings[i]
			e := w.error(r)
			out[s][k] = sighting{t: r.T, y: w.left(r), weight: w.sound[i] / (e * e)}
		}
	}
	return out
}

// compare tells the slips from a course, and the straying of the rest.
func (w *weighing) compare(s *solution) {
	row := make([]float64, s.size)
	var squares, count float64
	taken := float64(knotsAt)
	for station, list := range w.by {
		own := s.station(station)
		off := make([]float64, len(own))
		var here float64
		for _, i := range list {
			r := w.record.Readings[i]
			residual := w.left(r) - s.expected(r.T, station, own, row, off)
			slip := max(usualSlip, r.Slip)
			e := w.error(r)
			good := (1 - slip) * math.Exp(logNormal(residual, e*e))
			w.sound[i] = good / (good + slip/slipRange)
			squares += w.sound[i] * max(0, residual*residual-r.Error*r.Error)
			here += w.sound[i]
		}
		count += here
		taken += min(here, 1.5+float64(len(w.removals[station]))) // a station's rate is half tied to the tank's
	}
	taken += float64(len(s.course.knots)) / 2
	w.freedom = freedomPrior + max(0, count-taken)
	w.spot = max(leastError, math.Sqrt((freedomPrior*spotError*spotError+squares)/w.freedom))
}
