package infer

import (
	"hash/fnv"
	"iter"
	"math"
	"math/rand/v2"
	"strings"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/reports"
	"panecore/reports/trend"
)

// Errors of a water test by drops or strips, standard deviations: the usual ±0.2 pH and ±0.25 mg N/L
// taken as two of them (assumption).
const (
	phError           = 0.1
	totalAmmoniaError = 0.125 // mg N/L
)

// How much the stations of one tank are expected to differ about the tank's mean: a standard
// deviation of stationSpread mm plus stationShare of the depth, weighted like stationPrior stations
// (assumptions).
const (
	stationSpread = 0.3
	stationShare  = 0.05
	stationPrior  = 8
)

// slackSpread is the standard deviation of limits that are rules of thumb, as the natural logarithm
// of a factor (assumption: nobody has measured them).
const slackSpread = 0.1

// Simulation is the seeded Monte Carlo of one tank: what was drawn of each number.
type Simulation struct {
	cores      []coreDraws // as Outlook.Newest
	mulm       []float64
	oxic       []float64
	black      []float64
	top        []float64 // of the black zone, in the draws that have one
	ammonia    []float64
	growth     []float64   // mm a month, draw by draw as mulm
	ahead      []trend.Now // draw by draw, how the mulm goes on
	untilLimit []float64   // months until the mulm reaches its limit; +Inf: never

	penetration, bottom                  []float64             // in the draws that work out the chemistry
	stirShare, siphonShare, aeratedShare []float64             // the largest that stay within the limits
	basis                                map[reports.Basis]int // of the colour oxic depth, over draws and stations
	toEnd                                int                   // draws in which mulm was all that was seen
}

type coreDraws struct {
	mulm, oxic, black, top []float64
	basis                  map[reports.Basis]int
	toEnd                  int
}

// dice are the random numbers of a tank or of one of its cores, independent of what else is drawn.
// Every second draw mirrors the normal deviates of the one before, so that a symmetric number has
// its median where it was read.
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

// begin empties the simulation for another tank, keeping its memory.
func (s *Simulation) begin(cores int) {
	for len(s.cores) < cores {
		s.cores = append(s.cores, coreDraws{})
	}
	for i := range s.cores {
		s.cores[i].begin()
	}
	*s = Simulation{
		cores: s.cores, basis: map[reports.Basis]int{}, mulm: s.mulm[:0], oxic: s.oxic[:0], black: s.black[:0], top: s.top[:0],
		ammonia: s.ammonia[:0], growth: s.growth[:0], ahead: s.ahead[:0], untilLimit: s.untilLimit[:0], penetration: s.penetration[:0], bottom: s.bottom[:0],
		stirShare: s.stirShare[:0], siphonShare: s.siphonShare[:0], aeratedShare: s.aeratedShare[:0],
	}
}

// Run draws the tank's possible truths from the drawers of its newest cores and passes each to hear.
func (s *Simulation) Run(o *Outlook, drawers []*Drawer, set reports.Settings, hear func(*Truth)) {
	o.Chemistry, o.Missing = newChemistry(o.Tank, o.Facts, set.AltitudeM, drawers)
	now := Truth{Facts: o.Facts, Reached: o.Reached(), Rising: o.rising(), SeemsRising: o.seemsRising(), Runaway: o.Swelling.Odds >= 1, Floor: o.FloorMM(), Doubtful: o.doubtful(), ReadDays: o.ReadDays(), Over: len(o.PlacesOver()) > 0}
	limit := o.Limit(layers.LimitMulm)
	for n, rng := range s.roll(o, drawers, set.Draws, set.Seed, &now) {
		if o.Chemistry != nil && n%chemistryEvery == 0 {
			s.chemistry(o, rng, &now)
		}
		if o.Tests.Ammonia.Known() {
			s.ammonia = append(s.ammonia, now.Ammonia)
		}
		s.growth = append(s.growth, now.Growth)
		s.untilLimit = append(s.untilLimit, s.ahead[n].Until(limit))
		hear(&now)
	}
}

// roll draws bed, rates and water into now. It yields each draw's number and its dice.
func (s *Simulation) roll(o *Outlook, drawers []*Drawer, draws int, seed uint64, now *Truth) iter.Seq2[int, *dice] {
	return func(yield func(int, *dice) bool) {
		rng := newDice(seed, o.Tank.ID)
		s.begin(len(o.Newest))
		profiles := make([]Profile, len(o.Newest))
		for n := range draws {
			rng.begin(n)
			for i, d := range drawers {
				own, stood := d.stand(n)
				profiles[i] = stood
				s.cores[i].add(own)
			}
			by := rng.chances()
			s.ahead = append(s.ahead, o.along(by, drawers, now))
			s.tank(o, by, rng, drawers, profiles, now)
			o.rest(rng, now)
			if !yield(n, rng) {
				return
			}
		}
	}
}

// chemistryEvery is of how many draws one works out the chemistry, which takes as long as all the
// rest; the draws between reuse it.
const chemistryEvery = 4

// chemistry works out the oxygen of a draw and what disturbing its bed would release.
func (s *Simulation) chemistry(o *Outlook, rng *dice, now *Truth) {
	c := o.Chemistry
	c.roll(rng, now.Still)
	state := c.Settle()
	stirred := c.Free(reports.MethodStir, o.Limit(layers.LimitStirDepth))
	now.Bottom, now.BottomKnown = state.Bottom, true
	dips := c.Water(state).Dips(1)
	now.StirShare = c.LargestShare(stirred, state, &dips)
	siphoned := min(1, now.StirShare/c.Draw.SiphonReaching) // releases a part of what a stir would
	now.SiphonShare = siphoned
	if siphoned < LeastShare {
		moved := c.SettleMoved(bed.Aerated)
		dips := c.Water(moved).Dips(1)
		now.SiphonShare = min(1, c.LargestShare(stirred, moved, &dips)/c.Draw.SiphonReaching)
	}
	s.penetration = append(s.penetration, state.penetration)
	s.bottom = append(s.bottom, state.Bottom)
	s.stirShare = append(s.stirShare, now.StirShare)
	s.siphonShare = append(s.siphonShare, siphoned)
	s.aeratedShare = append(s.aeratedShare, now.SiphonShare)
}

// begin empties the draws for another core, keeping their memory.
func (c *coreDraws) begin() {
	*c = coreDraws{mulm: c.mulm[:0], oxic: c.oxic[:0], black: c.black[:0], top: c.top[:0], basis: map[reports.Basis]int{}}
}

func (c *coreDraws) add(p Profile) {
	c.mulm = append(c.mulm, p.Mulm)
	c.oxic = append(c.oxic, p.Oxic)
	c.black = append(c.black, p.black)
	if p.black > 0 {
		c.top = append(c.top, p.blackTop)
	}
	c.basis[p.basis]++
	if p.mulmToEnd {
		c.toEnd++
	}
}

// tank combines the stations' draws into one of the tank.
func (s *Simulation) tank(o *Outlook, by chances, rng *dice, drawers []*Drawer, profiles []Profile, now *Truth) {
	toEnd := false
	for i := range profiles {
		s.basis[profiles[i].basis]++
		toEnd = toEnd || profiles[i].mulmToEnd
	}
	if toEnd {
		s.toEnd++
	}
	oxic := o.oxic(by, drawers)
	if math.IsNaN(oxic) {
		oxic = meanOf(rng, profiles, func(p *Profile) float64 { return p.Oxic })
	}
	now.Black = meanOf(rng, profiles, func(p *Profile) float64 { return p.black })
	now.ReducedTop = meanOf(rng, profiles, func(p *Profile) float64 { return p.reducedTop })
	s.mulm = append(s.mulm, now.Mulm)
	s.oxic = append(s.oxic, oxic)
	s.black = append(s.black, now.Black)
	if top := meanOf(rng, profiles, func(p *Profile) float64 { return p.blackTop }); !math.IsInf(top, 1) {
		s.top = append(s.top, top)
	}
}

// meanOf draws the tank's mean of a quantity: the stations' mean, off by what a few spots at the
// glass may miss of the floor (Student's t, its spread from the stations and stationPrior). A mean
// of zero or +Inf stays as it is.
func meanOf(rng *dice, profiles []Profile, of func(*Profile) float64) float64 {
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
	return max(0, mean+math.Sqrt(variance/n)*trend.Student(rng.normal(), freedom))
}

// rest draws what does not come from the layers.
func (o *Outlook) rest(rng *dice, now *Truth) {
	now.Slack = math.Exp(slackSpread * rng.normal())
	now.Still = o.standsStill(rng)
	now.Ammonia = 0
	if a := o.Tests.Ammonia; a.Known() {
		total := max(0, a.Total+totalAmmoniaError*rng.normal())
		now.Ammonia = total * bed.UnionisedShare(a.ph+phError*rng.normal(), a.TempC)
	}
}

// standsStill draws whether the water is still; if the flow is not given, it is in half the draws.
func (f *Facts) standsStill(rng *dice) bool {
	return f.Flow == layers.Still || f.Flow == "" && rng.Uint32()&1 == 0
}

// Reached reports whether any of the newest readings saw the front.
func (o *Outlook) Reached() bool {
	for _, r := range o.Newest {
		if r.Named.basis != reports.NotReached {
			return true
		}
	}
	return false
}

// rising reports that three readings or more show the front rising faster than its limit, with a 90 %
// range clear of zero.
func (o *Outlook) rising() bool {
	return o.Shift != nil && o.Shift.Basis == reports.Trend && o.Shift.Value < -o.Limit(layers.LimitFrontRise) && o.Shift.High < 0
}

// seemsRising reports that the median rise is over its limit while the range is not clear of zero.
func (o *Outlook) seemsRising() bool {
	return o.Shift != nil && !o.rising() && o.Shift.Value < -o.Limit(layers.LimitFrontRise)
}

// LeastShare is the least share of the floor worth working on (assumption).
const LeastShare = 0.05
