package trend

import (
	"math"
	"slices"
)

// A course is the shape of the tank's path: a level and a slope at the beginning, a decay of that
// slope, changes of slope at knots, and a season. It is linear in all of them but the decay.
type course struct {
	begin, now float64
	decay      float64   // of the slope, a month
	knots      []float64 // rising
	turn       *Turn     // nil: none
}

// knotsBack are how long before the newest reading the slope may change, months: close together
// where the rate of today depends on it (assumption). Further back there is one every half year.
var knotsBack = [...]float64{0.75, 1.5, 2.5, 4, 6, 8, 10, 13, 16, 20, 24}

const (
	farStep   = 6.0  // months between knots further back
	farSteps  = 40   // so many of them; before that the slope is taken as constant
	yearCycle = 12.0 // months
)

// knotsOf are the knots of a record.
func knotsOf(begin, now float64) (knots []float64) {
	add := func(back float64) bool {
		if now-back <= begin+knotsBack[0]/2 {
			return false
		}
		knots = append(knots, now-back)
		return true
	}
	for _, back := range knotsBack {
		if !add(back) {
			break
		}
	}
	if len(knots) == len(knotsBack) {
		for k := range farSteps {
			if !add(knotsBack[len(knotsBack)-1] + farStep*float64(k+1)) {
				break
			}
		}
	}
	slices.Reverse(knots)
	return knots
}

// The first of a course's parameters, before one change of slope a knot and the season's two.
const (
	levelAt = iota // where the course begins, mm
	slopeAt        // how fast, mm a month
	knotsAt
)

// seasonAt is where the season's two parameters are; a turn's comes after them.
func (c *course) seasonAt() int { return knotsAt + len(c.knots) }

// size is how many parameters a course has.
func (c *course) size() int {
	if c.turn != nil {
		return c.seasonAt() + 3
	}
	return c.seasonAt() + 2
}

// Grown is how far a slope of 1 mm a month takes a thickness in so many months if it decays.
func Grown(months, decay float64) float64 {
	if decay == 0 {
		return months
	}
	return -math.Expm1(-decay*months) / decay
}

// at fills in what each parameter adds to the course at a time.
func (c *course) at(t float64, row []float64) {
	row[levelAt], row[slopeAt] = 1, Grown(t-c.begin, c.decay)
	for k, knot := range c.knots {
		row[knotsAt+k] = max(0, t-knot)
	}
	sin, cos := math.Sincos(2 * math.Pi * t / yearCycle)
	row[c.seasonAt()], row[c.seasonAt()+1] = cos, sin
	if c.turn != nil {
		row[c.seasonAt()+2] = c.turn.since(t)
	}
}

// slope fills in what each parameter adds to the slope now, the season's aside.
func (c *course) slope(row []float64) {
	clear(row)
	row[slopeAt] = math.Exp(-c.decay * (c.now - c.begin))
	for k := range c.knots {
		row[knotsAt+k] = 1
	}
	if c.turn != nil && !c.turn.Step {
		row[c.seasonAt()+2] = 1
	}
}

// What is thought of a course before anything is read, standard deviations (assumptions).
const (
	levelPrior  = 100.0 // mm
	slopePrior  = 3.0   // mm a month
	seasonPrior = 1.5   // mm, of either of the season's two parts
	offPrior    = 1e-4  // of what a course is to do without
)

// precisions are the inverse variances of the parameters before anything is read; drift is how far the
// slope strays in a month, mm a month.
func (c *course) precisions(drift float64, season bool, out []float64) {
	of := func(deviation float64) float64 { return 1 / (deviation * deviation) }
	out[levelAt], out[slopeAt] = of(levelPrior), of(slopePrior)
	before := c.begin
	for k, knot := range c.knots {
		out[knotsAt+k] = of(max(offPrior, drift*math.Sqrt(knot-before)))
		before = knot
	}
	cycle := of(offPrior)
	if season {
		cycle = of(seasonPrior)
	}
	out[c.seasonAt()], out[c.seasonAt()+1] = cycle, cycle
	if c.turn != nil {
		out[c.seasonAt()+2] = of(c.turn.Spread)
	}
}
