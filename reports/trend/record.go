// Package trend follows a thickness or depth that is read again and again at the stations of one
// tank: how thick it is now on the mean of the floor, how fast it changes now, and how that goes on.
//
// The model is a hierarchical one in state-space form. The tank has one course: a level, and a slope
// that decays, drifts and may have a season. Each station stands off from that course by an offset
// and a rate of its own, and drops by an amount of its own whenever the bed is worked. Readings stray
// about that; some are slips. Given how fast the slope decays and drifts and whether there is a
// season, all of it is linear and normal and solved exactly, all times at once (so the result is that
// of a Kalman smoother); those three are tried on a grid and weighed by their marginal likelihood.
// What the stations read cannot show of the rest of the floor is added from how they differ.
//
// Sources: Harvey 1989, Forecasting, Structural Time Series Models and the Kalman Filter (local
// linear and damped trends); Gelman et al. 2013, Bayesian Data Analysis, chapters 5 and 17
// (hierarchies, mixtures for outliers); both from memory. Times are in months, lengths in mm.
package trend

import (
	"math"
	"slices"
)

// Reading is one value read at one station.
type Reading struct {
	T       float64 // months
	Station int     // from 0
	Y       float64 // mm
	Error   float64 // standard deviation of the edge as seen, mm, beside the spot's own straying
	Slip    float64 // how likely it is a slip before it is compared, from 0 to less than 1
}

// Record is what was read of one quantity in one tank.
type Record struct {
	Readings []Reading // by T
	Current  []bool    // by station: its level counts as the tank's now
	Removals []float64 // when the bed was worked, rising; a reading at that time comes before it
}

// stations is how many stations there are.
func (r *Record) stations() int { return len(r.Current) }

// now is the time of the newest reading.
func (r *Record) now() float64 { return r.Readings[len(r.Readings)-1].T }

// begin is the time of the oldest reading.
func (r *Record) begin() float64 { return r.Readings[0].T }

// segment counts the removals before a time.
func (r *Record) segment(t float64) int {
	n, _ := slices.BinarySearch(r.Removals, t) // one at t comes after the reading
	return n
}

// byStation are the indices of each station's readings.
func (r *Record) byStation() [][]int {
	lists := make([][]int, r.stations())
	for i, reading := range r.Readings {
		lists[reading.Station] = append(lists[reading.Station], i)
	}
	return lists
}

// spotError is how far the bed at one spot strays from its course, mm, standard deviation: relief,
// settling, a snail (assumption). The readings correct it as far as they show.
const spotError = 0.9

// leastError is the least that a reading strays, mm: it is typed to the millimetre and read off a
// ruler (assumption: the usual ±1 mm taken as two standard deviations).
const leastError = 0.5

// slipRange is over how many mm a slip may throw a reading (assumption).
const slipRange = 100.0

// usualGrowth is the median of the slopes between neighbouring readings of a station, mm a month:
// neither slips nor removals move it far. It is zero where there are none.
func (r *Record) usualGrowth(byStation [][]int) float64 {
	var slopes []float64
	for _, list := range byStation {
		for k := 1; k < len(list); k++ {
			a, b := r.Readings[list[k-1]], r.Readings[list[k]]
			if dt := b.T - a.T; dt >= leastStep {
				slopes = append(slopes, (b.Y-a.Y)/dt)
			}
		}
	}
	return median(slopes)
}

// leastStep is how far apart readings must be for a slope between them, months (assumption: a week).
const leastStep = 0.25

// median is the middle of the values, the lower of two; zero if there are none. It reorders them.
func median(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	slices.Sort(values)
	return values[(len(values)-1)/2]
}

// logNormal is the logarithm of a normal density.
func logNormal(x, variance float64) float64 {
	return -0.5 * (math.Log(2*math.Pi*variance) + x*x/variance)
}
