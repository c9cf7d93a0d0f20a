package reports

import (
	"cmp"
	"math"
	"slices"

	"panecore/layers"
)

// rate is how fast a thickness or depth changes, mm a month, and what it stands on.
type rate struct {
	Estimate
	perStation []stationRate // where the stations disagree
	spanDays   int           // from the first reading used to the last
	attained   bool          // the limits bound 90 %, not just all slopes
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

// blocksOf sorts readings into one block a station and segment; value says what to
// take from a reading, and whether it can be taken. Readings come by date.
func blocksOf(readings []*reading, value func(profile) (float64, bool)) []block {
	type key struct {
		station string
		segment int
	}
	at := map[key]int{}
	var blocks []block
	for _, r := range readings {
		y, ok := value(r.named)
		if !ok {
			continue
		}
		k := key{r.core.Station, r.segment}
		i, seen := at[k]
		if !seen {
			i = len(blocks)
			at[k] = i
			blocks = append(blocks, block{station: k.station})
		}
		blocks[i].t = append(blocks[i].t, readings[0].core.Date.Months(r.core.Date))
		blocks[i].y = append(blocks[i].y, y)
	}
	slices.SortStableFunc(blocks, func(a, b block) int { return cmp.Compare(a.station, b.station) })
	return blocks
}

func mulmOf(p profile) (float64, bool) { return p.mulm, true }

func frontOf(p profile) (float64, bool) { return p.oxic, p.basis != NotReached }

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

// sinceSetUp is the named mulm of the newest readings over the tank's age, for want of a
// second reading: at least that where some was taken out since. Nil where the age is not
// told (-1) or too little.
func sinceSetUp(newest []*reading, ageDays int) *rate {
	if ageDays < youngestRate {
		return nil
	}
	var mulm float64
	for _, r := range newest {
		mulm += r.named.mulm / float64(len(newest))
	}
	months := float64(ageDays) / layers.DaysPerMonth
	return &rate{Estimate: Estimate{
		Value:    mulm / months,
		Low:      max(0, mulm-z90*spotError) / months / sinceSetUpFactor,
		High:     (mulm + z90*spotError) / months * sinceSetUpFactor,
		Basis:    SinceSetUp,
		Readings: len(newest),
		AtLeast:  newest[0].segment > 0,
	}, spanDays: ageDays}
}

// draw is one possible value of the rate: normal on either side of its median.
func (r *rate) draw(rng *dice) float64 {
	z := rng.normal()
	if z < 0 {
		return r.Value + z*(r.Value-r.Low)/z90
	}
	return r.Value + z*(r.High-r.Value)/z90
}
