package reports

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"panecore/layers"
	"panecore/palette"
)

// rate is how fast a thickness or depth changes, mm a month, and what it stands on.
type rate struct {
	Estimate
	perStation []stationRate // where the stations disagree
	spanDays   int           // from the first reading used to the last
	attained   bool          // the limits bound 90 %, not just all slopes
	months     float64       // of a rate since set-up: the tank's age; else zero
}

type stationRate struct {
	station string
	rate    float64
}

// spotError is how far the bed at one spot strays from its own trend between two
// readings, mm, standard deviation: relief, settling, a snail (assumption). It
// counts where too few readings show the straying themselves.
const spotError = 1.0

// disagreementLevel is the confidence beyond which stations are said to disagree.
const disagreementLevel = 0.95

// segmentOf counts the removals before a day. A reading of the same day is taken
// to have come first (assumption: one reads, then one siphons).
func segmentOf(events []layers.Event, day layers.Date) (n int) {
	for _, e := range events {
		if e.Kind.Splits() && e.Date < day {
			n++
		}
	}
	return n
}

// leastApart is how far apart readings must lie to show growth, days (assumption: a fortnight's
// growth is a millimetre or so, which is what a spot strays by itself).
const leastApart = 14

// blocksOf sorts the sound readings into one block a station and segment; value says what to
// take from a reading, and whether it can be taken. Readings come by date; those nearer than
// leastApart to the first of several are taken together, their means as one.
func blocksOf(readings []*reading, value func(*reading) (float64, bool)) []block {
	type key struct {
		station string
		segment int
	}
	type place struct {
		block    int
		first    layers.Date // of the readings that the block's last stands for
		together float64     // how many they are
	}
	at := map[key]*place{}
	var blocks []block
	for _, r := range readings {
		y, ok := value(r)
		if !ok || !r.sound() {
			continue
		}
		k, t := key{r.core.Station, r.segment}, readings[0].core.Date.Months(r.core.Date)
		p := at[k]
		switch {
		case p == nil:
			p = &place{block: len(blocks), first: r.core.Date}
			at[k], blocks = p, append(blocks, block{station: k.station})
		case r.core.Date-p.first < leastApart:
			b, last := &blocks[p.block], len(blocks[p.block].t)-1
			b.t[last], b.y[last] = (p.together*b.t[last]+t)/(p.together+1), (p.together*b.y[last]+y)/(p.together+1)
			p.together++
			continue
		}
		b := &blocks[p.block]
		b.t, b.y = append(b.t, t), append(b.y, y)
		p.first, p.together = r.core.Date, 1
	}
	slices.SortStableFunc(blocks, func(a, b block) int { return cmp.Compare(a.station, b.station) })
	return blocks
}

func mulmOf(r *reading) (float64, bool) { return r.named.mulm, true }

func frontOf(r *reading) (float64, bool) { return r.named.oxic, r.named.basis != NotReached }

// rateOf is the pooled rate of blocks, nil where no block has two readings.
func rateOf(blocks []block) *rate {
	s, ok := pooledSlope(blocks, 0.90)
	if !ok {
		return nil
	}
	r := &rate{Estimate: Estimate{Value: s.median, Low: s.low, High: s.high, Basis: Trend, Readings: s.readings}, attained: s.attained}
	longest := 0
	first, last := math.Inf(1), math.Inf(-1)
	for _, b := range blocks {
		longest = max(longest, len(b.t))
		if len(b.t) > 1 {
			first, last = min(first, b.t[0]), max(last, b.t[len(b.t)-1])
		}
	}
	r.spanDays = int(math.Round((last - first) * layers.DaysPerMonth))
	if longest == 2 {
		r.Basis = TwoReadings
	}
	if s.attained {
		r.widen(rulerAlone(blocks))
	} else {
		r.widen(ends(blocks))
	}
	if chiSquare, freedom := disagreement(blocks); freedom > 0 && s.attained && chiSquare > chiSquareQuantile(disagreementLevel, freedom) {
		r.perStation = ratesByStation(blocks)
		for _, one := range r.perStation {
			r.Low, r.High = min(r.Low, one.rate), max(r.High, one.rate)
		}
	}
	return r
}

// ends is the half-width of a rate from the first and last reading of each block
// alone, 90 %, blocks pooled by their length.
func ends(blocks []block) float64 {
	var information float64
	for _, b := range blocks {
		if n := len(b.t); n > 1 {
			span := b.t[n-1] - b.t[0]
			information += span * span / (2 * (readingError*readingError + spotError*spotError))
		}
	}
	return z90 / math.Sqrt(information)
}

// rulerAlone is the half-width, 90 %, that the reading error by itself leaves a straight
// line through all readings. Typed to the millimetre, readings can lie so well on a line
// that their ranks say less.
func rulerAlone(blocks []block) float64 {
	var information float64
	for _, b := range blocks {
		var sum, squares float64
		for _, t := range b.t {
			sum += t
			squares += t * t
		}
		information += squares - sum*sum/float64(len(b.t))
	}
	return z90 * readingError / math.Sqrt(information)
}

// widen makes the limits at least so far from the value.
func (r *rate) widen(half float64) {
	r.Low, r.High = min(r.Low, r.Value-half), max(r.High, r.Value+half)
}

// ratesByStation is each station's own rate.
func ratesByStation(blocks []block) (rates []stationRate) {
	for i := 0; i < len(blocks); {
		j := i
		for j < len(blocks) && blocks[j].station == blocks[i].station {
			j++
		}
		if s, ok := pooledSlope(blocks[i:j], 0.90); ok {
			rates = append(rates, stationRate{blocks[i].station, s.median})
		}
		i = j
	}
	return rates
}

// sinceSetUpFactor is how far growth may have been uneven when only one reading
// stands against the set-up day: the 5-95 % range of a log-normal factor (assumption).
const sinceSetUpFactor = 1.5

// youngestRate is the least age, in days, that a rate since set-up is given for (assumption).
const youngestRate = 14

// sinceSetUp is the mulm of the newest readings over the tank's age, for want of a second
// reading: at least that where some was taken out since. Its numbers come with the draws of
// the mulm, see grown. Nil where the age is not told (-1) or too little, or no reading is sound.
func sinceSetUp(newest []*reading, ageDays int) *rate {
	if ageDays < youngestRate || !slices.ContainsFunc(newest, (*reading).sound) {
		return nil
	}
	return &rate{Estimate: Estimate{
		Basis:    SinceSetUp,
		Readings: len(newest),
		AtLeast:  newest[0].segment > 0,
	}, spanDays: ageDays, months: float64(ageDays) / layers.DaysPerMonth}
}

// draw is one possible value of the rate where so much mulm lies, mm: that over the age, or
// normal on either side of the rate's median.
func (r *rate) draw(rng *dice, mulm float64) float64 {
	z := rng.normal()
	switch {
	case r.months > 0:
		return mulm / r.months * math.Exp(z/z90*math.Log(sinceSetUpFactor))
	case z < 0:
		return r.Value + z*(r.Value-r.Low)/z90
	}
	return r.Value + z*(r.High-r.Value)/z90
}

// grown gives a rate since set-up the numbers of its draws.
func (r *rate) grown(draws []float64) {
	if r.months > 0 {
		e := spread(slices.Clone(draws))
		r.Value, r.Low, r.High = e.Value, e.Low, e.High
	}
}

// over gives a rate since set-up the numbers of one core's mulm.
func (r *rate) over(mulm Estimate) {
	r.Value, r.Low, r.High = mulm.Value/r.months, mulm.Low/r.months/sinceSetUpFactor, mulm.High/r.months*sinceSetUpFactor
}

// nameDraws is how many ways to name a record are tried where its names are in doubt
// (assumption: enough to see a second name of one in ten, two times in three).
const nameDraws = 12

// doubtNames widens the rates to what other names of the layers would make of them. A layer
// that is in doubt is so in every reading alike, so each way to name them is drawn with the
// same dice for all.
func (o *outlook) doubtNames(seed uint64) {
	if o.growth == nil && o.shift == nil {
		return
	}
	for n := range nameDraws {
		dice := func() *dice { return newDice(seed, o.tank.ID, "names", strconv.Itoa(n)) }
		if !slices.ContainsFunc(o.newest, func(r *reading) bool { return r.otherwise(dice()) }) {
			continue
		}
		for _, r := range o.readings {
			if r.match == nil {
				r.match = o.matcher.Match(r.column)
			}
			r.otherwise(dice())
		}
		o.growth.span(blocksOf(o.readings, func(r *reading) (float64, bool) { return r.other.mulm, true }))
		o.shift.span(blocksOf(o.readings, func(r *reading) (float64, bool) { return r.other.oxic, r.other.basis != NotReached }))
	}
}

// otherwise draws other names for a reading's layers, and reports whether they make another
// bed of it.
func (r *reading) otherwise(dice *dice) bool {
	names := make([]palette.Band, len(r.names))
	r.match.Sample(dice.Rand, names)
	r.other = newProfile(r.edges, names, 0.5)
	return r.other.mulm != r.named.mulm || r.other.oxic != r.named.oxic || r.other.basis != r.named.basis
}

// span makes the limits hold the slope of other blocks too.
func (r *rate) span(blocks []block) {
	if r == nil {
		return
	}
	var all []float64
	for _, b := range blocks {
		all = appendSlopes(all, b)
	}
	if len(all) > 0 {
		slope := quantile(all, 0.5)
		r.Low, r.High = min(r.Low, slope), max(r.High, slope)
	}
}
