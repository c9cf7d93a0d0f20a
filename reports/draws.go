package reports

import (
	"hash/fnv"
	"iter"
	"math"
	"math/rand/v2"
	"strings"

	"panecore/layers"
	"panecore/layers/bed"
)

// Doubts of a water test by drops or strips, standard deviations: the usual ±0.2 pH
// and ±0.25 mg N/L taken as two of them (assumption).
const (
	phError           = 0.1
	totalAmmoniaError = 0.125 // mg N/L
)

// How much the stations of one tank differ about the tank's mean before they have
// shown it: a standard deviation of stationSpread mm and stationShare of the depth,
// trusted like stationPrior stations (assumptions).
const (
	stationSpread = 0.3
	stationShare  = 0.05
	stationPrior  = 8
)

// slackSpread is the standard deviation of the limits that are rules of thumb, as
// the natural logarithm of a factor (assumption: nobody has measured them).
const slackSpread = 0.1

// simulation is the seeded Monte Carlo of one tank: what was drawn of each number.
type simulation struct {
	cores      []coreDraws // as outlook.newest
	mulm       []float64
	oxic       []float64
	black      []float64
	top        []float64 // of the black zone, in the draws that have one
	ammonia    []float64
	growth     []float64 // mm a month, draw by draw as mulm
	untilLimit []float64 // months until the mulm reaches its limit; +Inf: never

	penetration, bottom                  []float64     // in the draws that work out the chemistry
	stirShare, siphonShare, aeratedShare []float64     // the largest that stay within the limits
	basis                                map[Basis]int // of the colour oxic depth, over draws and stations
	toEnd                                int           // draws in which mulm was all that was seen
	verdict                              verdict
}

type coreDraws struct {
	mulm, oxic, black, top []float64
	basis                  map[Basis]int
	toEnd                  int
}

// dice are the random numbers of a tank or of one of its cores, the same whatever is drawn
// beside it.
// Every second draw mirrors the normal deviates of the one before, so that what is
// symmetric has its middle where it was read.
type dice struct {
	*rand.Rand
	deviates []float64 // of the draw to be mirrored
	used     int
	mirror   bool
}

func newDice(seed uint64, of ...string) *dice {
	h := fnv.New64a()
	h.Write([]byte(strings.Join(of, "\x00")))
	return &dice{Rand: rand.New(rand.NewPCG(seed, h.Sum64()))}
}

// begin starts the n-th draw.
func (d *dice) begin(n int) {
	d.used, d.mirror = 0, n%2 == 1
	if !d.mirror {
		d.deviates = d.deviates[:0]
	}
}

// normal is a standard normal deviate.
func (d *dice) normal() float64 {
	if d.mirror && d.used < len(d.deviates) {
		d.used++
		return -d.deviates[d.used-1]
	}
	z := d.NormFloat64()
	d.deviates = append(d.deviates, z)
	return z
}

// begin empties the simulation for another tank, keeping its room.
func (s *simulation) begin(cores int) {
	for len(s.cores) < cores {
		s.cores = append(s.cores, coreDraws{})
	}
	for i := range s.cores {
		s.cores[i].begin()
	}
	*s = simulation{
		cores: s.cores, basis: map[Basis]int{}, mulm: s.mulm[:0], oxic: s.oxic[:0], black: s.black[:0], top: s.top[:0],
		ammonia: s.ammonia[:0], growth: s.growth[:0], untilLimit: s.untilLimit[:0], penetration: s.penetration[:0], bottom: s.bottom[:0],
		stirShare: s.stirShare[:0], siphonShare: s.siphonShare[:0], aeratedShare: s.aeratedShare[:0],
	}
}

// run draws the tank's possible truths and lets the rules judge each.
func (s *simulation) run(o *outlook, drawers []*drawer, draws int, seed uint64) {
	now := scene{facts: o.facts, reached: o.reached(), rising: o.rising(), seemsRising: o.seemsRising(), floor: o.floorMM(), doubtful: o.doubtful(), readDays: o.readDays(), over: o.placesOver()}
	o.unsure = newUnsure(drawers)
	limit := o.limits[layers.LimitMulm].value
	for n, rng := range s.roll(o, drawers, draws, seed, &now) {
		if o.chemistry != nil && n%chemistryEvery == 0 {
			s.chemistry(o, rng, &now)
		}
		if o.tests.ammonia.known() {
			s.ammonia = append(s.ammonia, now.ammonia)
		}
		s.growth = append(s.growth, now.growth)
		s.untilLimit = append(s.untilLimit, monthsTo(limit, now.mulm, now.growth))
		o.unsure.note(s.verdict.hear(&now))
	}
}

// roll draws bed, rates and water into now. It yields each draw's number and what to draw
// more of it from.
func (s *simulation) roll(o *outlook, drawers []*drawer, draws int, seed uint64, now *scene) iter.Seq2[int, *dice] {
	return func(yield func(int, *dice) bool) {
		rng := newDice(seed, o.tank.ID)
		s.begin(len(o.newest))
		profiles := make([]profile, len(o.newest))
		for n := range draws {
			rng.begin(n)
			for i, d := range drawers {
				own, stood := d.stand(n)
				profiles[i] = stood
				s.cores[i].add(own)
			}
			s.tank(rng, profiles, now)
			o.rest(rng, now)
			if !yield(n, rng) {
				return
			}
		}
	}
}

// chemistryEvery says of how many draws one works out the chemistry, which takes as long
// as all the rest; the draws between stand by it.
const chemistryEvery = 4

// chemistry works out the oxygen of a draw and what a hand in its bed would free.
func (s *simulation) chemistry(o *outlook, rng *dice, now *scene) {
	c := o.chemistry
	c.roll(rng, now.still)
	state := c.settle()
	stirred := c.free(MethodStir, o.limits[layers.LimitStirDepth].value)
	now.bottom, now.bottomKnown = state.bottom, true
	dips := c.water(state).Dips(1)
	now.stirShare = c.largestShare(stirred, state, &dips, &o.limits)
	siphoned := min(1, now.stirShare/c.draw.siphonReaching) // frees its part of the same
	now.siphonShare = siphoned
	if siphoned < leastShare {
		moved := c.settleMoved(bed.Aerated)
		dips := c.water(moved).Dips(1)
		now.siphonShare = min(1, c.largestShare(stirred, moved, &dips, &o.limits)/c.draw.siphonReaching)
	}
	s.penetration = append(s.penetration, state.penetration)
	s.bottom = append(s.bottom, state.bottom)
	s.stirShare = append(s.stirShare, now.stirShare)
	s.siphonShare = append(s.siphonShare, siphoned)
	s.aeratedShare = append(s.aeratedShare, now.siphonShare)
}

// begin empties the draws for another core, keeping their room.
func (c *coreDraws) begin() {
	*c = coreDraws{mulm: c.mulm[:0], oxic: c.oxic[:0], black: c.black[:0], top: c.top[:0], basis: map[Basis]int{}}
}

func (c *coreDraws) add(p profile) {
	c.mulm = append(c.mulm, p.mulm)
	c.oxic = append(c.oxic, p.oxic)
	c.black = append(c.black, p.black)
	if p.black > 0 {
		c.top = append(c.top, p.blackTop)
	}
	c.basis[p.basis]++
	if p.mulmToEnd {
		c.toEnd++
	}
}

// tank takes the stations' draw together into one of the tank.
func (s *simulation) tank(rng *dice, profiles []profile, now *scene) {
	toEnd := false
	for i := range profiles {
		s.basis[profiles[i].basis]++
		toEnd = toEnd || profiles[i].mulmToEnd
	}
	if toEnd {
		s.toEnd++
	}
	now.mulm = meanOf(rng, profiles, func(p *profile) float64 { return p.mulm })
	oxic := meanOf(rng, profiles, func(p *profile) float64 { return p.oxic })
	now.black = meanOf(rng, profiles, func(p *profile) float64 { return p.black })
	now.reducedTop = meanOf(rng, profiles, func(p *profile) float64 { return p.reducedTop })
	s.mulm = append(s.mulm, now.mulm)
	s.oxic = append(s.oxic, oxic)
	s.black = append(s.black, now.black)
	if top := meanOf(rng, profiles, func(p *profile) float64 { return p.blackTop }); !math.IsInf(top, 1) {
		s.top = append(s.top, top)
	}
}

// meanOf draws the tank's mean of a quantity from its stations' values: their own
// mean, off by what a few spots at the glass may miss of the floor (Student's t
// about it, the spread between stations taken from them and stationPrior).
// A quantity that is zero or has no end at a station keeps it.
func meanOf(rng *dice, profiles []profile, of func(*profile) float64) float64 {
	n := float64(len(profiles))
	var sum, squares float64
	for i := range profiles {
		sum += of(&profiles[i])
	}
	mean := sum / n
	if mean == 0 || math.IsInf(mean, 1) {
		return mean
	}
	for i := range profiles {
		d := of(&profiles[i]) - mean
		squares += d * d
	}
	prior := stationSpread + stationShare*mean
	freedom := stationPrior + n - 1
	variance := (stationPrior*prior*prior + max(0, squares-(n-1)*readingError*readingError)) / freedom
	return max(0, mean+math.Sqrt(variance/n)*student(rng.normal(), freedom))
}

// student turns a normal deviate into one of Student's t, by the first terms of
// the Cornish-Fisher expansion (Abramowitz & Stegun 26.7.5).
func student(z, freedom float64) float64 {
	z2 := z * z
	return z * (1 + (z2+1)/(4*freedom) + (5*z2*z2+16*z2+3)/(96*freedom*freedom))
}

// rest draws what does not come from the column.
func (o *outlook) rest(rng *dice, now *scene) {
	now.slack = math.Exp(slackSpread * rng.normal())
	now.still = o.standsStill(rng)
	now.growth, now.shift, now.ammonia = 0, 0, 0
	if o.growth != nil {
		now.growth = o.growth.draw(rng, now.mulm)
	}
	if o.shift != nil {
		now.shift, now.shiftKnown = o.shift.draw(rng, 0), true
	}
	if a := o.tests.ammonia; a.known() {
		total := max(0, a.total+totalAmmoniaError*rng.normal())
		now.ammonia = total * bed.UnionisedShare(a.ph+phError*rng.normal(), a.tempC)
	}
}

// standsStill draws whether the water stands still; flow that is not told does in half
// the draws.
func (f *facts) standsStill(rng *dice) bool {
	return f.flow == layers.Still || f.flow == "" && rng.Uint32()&1 == 0
}

// reached reports whether any of the newest readings saw the front.
func (o *outlook) reached() bool {
	for _, r := range o.newest {
		if r.named.basis != NotReached {
			return true
		}
	}
	return false
}

// rising reports that the record shows the front rising faster than its limit, with
// limits clear of zero.
func (o *outlook) rising() bool {
	return o.shift != nil && o.shift.attained && o.shift.Value < -o.limits[layers.LimitFrontRise].value && o.shift.High < 0
}

// seemsRising reports that the middle of the record shows so without limits clear of zero.
func (o *outlook) seemsRising() bool {
	return o.shift != nil && !o.rising() && o.shift.Value < -o.limits[layers.LimitFrontRise].value
}
