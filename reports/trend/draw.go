package trend

import "math"

// Now is one possible truth about a tank's course: where it is and how it goes on.
type Now struct {
	Level float64 // mm
	Rate  float64 // mm a month
	Ahead float64 // the rate that counts for what comes, with what it may yet drift
	Decay float64 // of the rate, a month
}

// aheadMonths is over how long the rate drifts on in what is foreseen, months (assumption).
const aheadMonths = 6.0

// Deviates are the random numbers of one draw: two uniform ones and four that are standard normal.
type Deviates struct {
	Way, Spread               float64
	Level, Rate, Floor, Ahead float64
}

// Draw is the possible truth for some random numbers.
func (f *Fit) Draw(d Deviates) Now {
	k := 0
	for k < len(f.cumulative)-1 && f.cumulative[k] < d.Way {
		k++
	}
	s := &f.States[k]
	level, rate := Student(d.Level, f.Freedom), Student(d.Rate, f.Freedom)
	rate = s.together*level + math.Sqrt(max(0, 1-s.together*s.together))*rate
	now := Now{
		Level: s.Level + s.levelError*level + f.level.draw(d.Spread)*d.Floor,
		Rate:  s.Rate + s.rateError*rate + f.rate.draw(d.Spread)*d.Floor,
		Decay: s.Decay,
	}
	now.Ahead = now.Rate + s.Drift*math.Sqrt(aheadMonths/3)*d.Ahead // the mean of a random walk's slope
	return now
}

// After is the level in so many months.
func (n Now) After(months float64) float64 { return n.Level + n.Ahead*Grown(months, n.Decay) }

// Until is how many months the level takes to reach a limit; +Inf: it does not. It is zero if it has.
func (n Now) Until(limit float64) float64 {
	missing := limit - n.Level
	switch share := missing * n.Decay / n.Ahead; {
	case missing <= 0:
		return 0
	case n.Ahead <= 0 || share >= 1: // it levels off before
		return math.Inf(1)
	case n.Decay > 0:
		return -math.Log1p(-share) / n.Decay
	}
	return missing / n.Ahead
}

// Student turns a normal deviate into one of Student's t, by the first terms of
// the Cornish-Fisher expansion (Abramowitz & Stegun 26.7.5). It is our own, since
// gonum's inverse in every draw would make a tank take three times as long.
func Student(z, freedom float64) float64 {
	z2 := z * z
	return z * (1 + (z2+1)/(4*freedom) + (5*z2*z2+16*z2+3)/(96*freedom*freedom))
}
