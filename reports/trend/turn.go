package trend

import (
	"math"
	"slices"
)

// A Turn is what may have happened to a quantity at a time, all over the floor: a lasting change of
// slope, as a runaway brings, or a step, as a removal does that nobody entered.
type Turn struct {
	At           float64 // months
	Step         bool
	Mean, Spread float64 // mm a month or, of a step, mm: expected, with its standard deviation
}

// since is what the turn is multiplied by at a time: the months since, or one after a step.
func (t *Turn) since(at float64) float64 {
	switch {
	case at <= t.At:
		return 0
	case t.Step:
		return 1
	}
	return at - t.At
}

// mean is how far the turn takes the quantity by a time on average, mm; no turn takes it nowhere.
func (t *Turn) mean(at float64) float64 {
	if t == nil {
		return 0
	}
	return t.Mean * t.since(at)
}

// slope is how fast the turn moves the quantity now on average, mm a month.
func (t *Turn) slope() float64 {
	if t == nil || t.Step {
		return 0
	}
	return t.Mean
}

// mostDrift is the most that a healthy course drifts while a turn is weighed against it, mm a month in
// a month (assumption): one that drifted further could be anything.
const mostDrift = 0.15

// Bound is the logarithm of how likely the readings are with a turn, nil for none, from below and but
// for a constant. The course goes otherwise as it likeliest does, and which readings are slips is
// weighed anew: once from those that the fit holds to be, once from none, since what a turn does looks
// like slips without it. It is the variational bound of the mixture of sound readings and slips (Bishop
// 2006, Pattern Recognition and Machine Learning, chapter 10, from memory).
func (f *Fit) Bound(turn *Turn) float64 {
	c := *f.mode.course
	c.turn = turn
	precisions := make([]float64, c.size())
	c.precisions(min(mostDrift, f.likeliest.Drift), f.likeliest.Season, precisions)
	asFitted, allSound := *f.weighing, *f.weighing
	asFitted.sound, allSound.sound = slices.Clone(f.Sound), make([]float64, len(f.Sound))
	for i, r := range f.weighing.record.Readings {
		allSound.sound[i] = 1 - max(usualSlip, r.Slip)
	}
	return max(asFitted.bound(&c, precisions), allSound.bound(&c, precisions))
}

// bound is Bound from one beginning.
func (w *weighing) bound(c *course, precisions []float64) float64 {
	w.turn = c.turn
	spot, freedom := w.spot, w.freedom
	for range turns {
		w.compare(newArrow(c, w.sightings(), w.removals, w.prior).solve(precisions))
		w.spot, w.freedom = spot, freedom // the same for all that are compared
	}
	log := newArrow(c, w.sightings(), w.removals, w.prior).solve(precisions).evidence
	for i, r := range w.record.Readings {
		slip, e, sound := max(usualSlip, r.Slip), w.error(r), w.sound[i]
		log += sound*(math.Log(1-slip)+logNormal(0, e*e)) + (1-sound)*math.Log(slip/slipRange) + entropy(sound)
	}
	return log
}

// entropy is that of a yes and a no.
func entropy(p float64) float64 {
	if p <= 0 || p >= 1 {
		return 0
	}
	return -p*math.Log(p) - (1-p)*math.Log(1-p)
}
