package infer

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/stats"

	"gonum.org/v1/gonum/stat/distuv"
)

// Rate is how fast a thickness or depth changes, mm a month, and what it rests on.
type Rate struct {
	reports.Estimate
	PerStation []StationRate // where the stations disagree
	SpanDays   int           // from the first reading used to the last
	Attained   bool          // the limits bound 90 %, not just all slopes
	months     float64       // of a rate since set-up: the tank's age; else zero
}

// StationRate is a station's own rate, mm a month.
type StationRate struct {
	Station string
	Rate    float64
}

// spotError is how far the bed at one spot strays from its own trend between two readings, mm,
// standard deviation: relief, settling, a snail (assumption). It counts where the readings are too
// few to show it.
const spotError = 1.0

// disagreementLevel is the confidence above which stations count as disagreeing (assumption).
const disagreementLevel = 0.95

// segmentOf counts the removals before a day. A reading on the day of one counts as earlier
// (assumption: a keeper reads first, then siphons).
func segmentOf(events []layers.Event, day layers.Date) (n int) {
	for _, e := range events {
		if e.Kind.Splits() && e.Date < day {
			n++
		}
	}
	return n
}

// LeastApart is how far apart readings must be to show growth, days (assumption: a fortnight's
// growth is about a millimetre, no more than a spot strays by itself).
const LeastApart = 14

// blocksOf sorts the sound readings, which come by date, into one block a station and segment; value
// is the number of a reading, and whether it has one. Readings within LeastApart of the first of
// several count as one, with their means.
func blocksOf(readings []*Reading, value func(*Reading) (float64, bool)) []stats.Block {
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
	var blocks []stats.Block
	for _, r := range readings {
		y, ok := value(r)
		if !ok || !r.Sound() {
			continue
		}
		k, t := key{r.Core.Station, r.segment}, readings[0].Core.Date.Months(r.Core.Date)
		p := at[k]
		switch {
		case p == nil:
			p = &place{block: len(blocks), first: r.Core.Date}
			at[k], blocks = p, append(blocks, stats.Block{Station: k.station})
		case r.Core.Date-p.first < LeastApart:
			b, last := &blocks[p.block], len(blocks[p.block].T)-1
			b.T[last], b.Y[last] = (p.together*b.T[last]+t)/(p.together+1), (p.together*b.Y[last]+y)/(p.together+1)
			p.together++
			continue
		}
		b := &blocks[p.block]
		b.T, b.Y = append(b.T, t), append(b.Y, y)
		p.first, p.together = r.Core.Date, 1
	}
	slices.SortStableFunc(blocks, func(a, b stats.Block) int { return cmp.Compare(a.Station, b.Station) })
	return blocks
}

func mulmOf(r *Reading) (float64, bool) { return r.Named.Mulm, true }

func frontOf(r *Reading) (float64, bool) { return r.Named.Oxic, r.Named.basis != reports.NotReached }

// rateOf is the pooled rate of blocks, nil if no block has two readings.
func rateOf(blocks []stats.Block) *Rate {
	s, ok := stats.PooledSlope(blocks, 0.90)
	if !ok {
		return nil
	}
	r := &Rate{Estimate: reports.Estimate{Value: s.Median, Low: s.Low, High: s.High, Basis: reports.Trend, Readings: s.Readings}, Attained: s.Attained}
	longest := 0
	first, last := math.Inf(1), math.Inf(-1)
	for _, b := range blocks {
		longest = max(longest, len(b.T))
		if len(b.T) > 1 {
			first, last = min(first, b.T[0]), max(last, b.T[len(b.T)-1])
		}
	}
	r.SpanDays = int(math.Round((last - first) * layers.DaysPerMonth))
	if longest == 2 {
		r.Basis = reports.TwoReadings
	}
	if s.Attained {
		r.widen(rulerAlone(blocks))
	} else {
		r.widen(ends(blocks))
	}
	if chiSquare, freedom := stats.Disagreement(blocks); freedom > 0 && s.Attained && chiSquare > (distuv.ChiSquared{K: float64(freedom)}).Quantile(disagreementLevel) {
		r.PerStation = ratesByStation(blocks)
		for _, station := range r.PerStation {
			r.Low, r.High = min(r.Low, station.Rate), max(r.High, station.Rate)
		}
	}
	return r
}

// ends is the 90 % half-width of a rate from the first and last reading of each block alone, with
// the blocks pooled by their length.
func ends(blocks []stats.Block) float64 {
	var information float64
	for _, b := range blocks {
		if n := len(b.T); n > 1 {
			span := b.T[n-1] - b.T[0]
			information += span * span / (2 * (readingError*readingError + spotError*spotError))
		}
	}
	return stats.Z90 / math.Sqrt(information)
}

// rulerAlone is the 90 % half-width that the reading error alone gives a straight line through all
// readings. Readings typed to the millimetre can lie so well on a line that their ranks give less.
func rulerAlone(blocks []stats.Block) float64 {
	var information float64
	for _, b := range blocks {
		var sum, squares float64
		for _, t := range b.T {
			sum += t
			squares += t * t
		}
		information += squares - sum*sum/float64(len(b.T))
	}
	return stats.Z90 * readingError / math.Sqrt(information)
}

// widen moves the limits at least so far from the value.
func (r *Rate) widen(half float64) {
	r.Low, r.High = min(r.Low, r.Value-half), max(r.High, r.Value+half)
}

// ratesByStation is each station's own rate.
func ratesByStation(blocks []stats.Block) (rates []StationRate) {
	for i := 0; i < len(blocks); {
		j := i
		for j < len(blocks) && blocks[j].Station == blocks[i].Station {
			j++
		}
		if s, ok := stats.PooledSlope(blocks[i:j], 0.90); ok {
			rates = append(rates, StationRate{blocks[i].Station, s.Median})
		}
		i = j
	}
	return rates
}

// sinceSetUpFactor is how uneven growth may have been if there is only one reading since set-up: the
// 5-95 % range of a log-normal factor (assumption).
const sinceSetUpFactor = 1.5

// youngestRate is the least age of a tank with a rate since set-up, days (assumption).
const youngestRate = 14

// sinceSetUp is the mulm of the newest readings divided by the tank's age, where there is no second
// reading; it is a lower bound if some was removed since. Its numbers come with the draws of the
// mulm, see grown. It is nil if the age is not given (-1) or too low, or no reading is sound.
func sinceSetUp(newest []*Reading, ageDays int) *Rate {
	if ageDays < youngestRate || !slices.ContainsFunc(newest, (*Reading).Sound) {
		return nil
	}
	return &Rate{Estimate: reports.Estimate{
		Basis:    reports.SinceSetUp,
		Readings: len(newest),
		AtLeast:  newest[0].segment > 0,
	}, SpanDays: ageDays, months: float64(ageDays) / layers.DaysPerMonth}
}

// draw is one possible value of the rate: that mulm, mm, divided by the age, or normal on either
// side of the rate's median.
func (r *Rate) draw(rng *dice, mulm float64) float64 {
	z := rng.normal()
	switch {
	case r.months > 0:
		return mulm / r.months * math.Exp(z/stats.Z90*math.Log(sinceSetUpFactor))
	case z < 0:
		return r.Value + z*(r.Value-r.Low)/stats.Z90
	}
	return r.Value + z*(r.High-r.Value)/stats.Z90
}

// grown gives a rate since set-up the numbers of its draws.
func (r *Rate) grown(draws []float64) {
	if r.months > 0 {
		e := stats.Spread(slices.Clone(draws))
		r.Value, r.Low, r.High = e.Value, e.Low, e.High
	}
}

// over gives a rate since set-up the numbers of one core's mulm.
func (r *Rate) over(mulm reports.Estimate) {
	r.Value, r.Low, r.High = mulm.Value/r.months, mulm.Low/r.months/sinceSetUpFactor, mulm.High/r.months*sinceSetUpFactor
}

// nameDraws is how many ways to name a record are tried if its names are in doubt (assumption:
// enough to see a second name with a probability of one in ten two times in three).
const nameDraws = 12

// doubtNames widens the rates to those with other names of the layers. A layer in doubt is in doubt
// in every reading alike, so each way to name them is drawn with the same dice for all.
func (o *Outlook) doubtNames(seed uint64) {
	if o.Growth == nil && o.Shift == nil {
		return
	}
	for n := range nameDraws {
		dice := func() *dice { return newDice(seed, o.Tank.ID, "names", strconv.Itoa(n)) }
		if !slices.ContainsFunc(o.Newest, func(r *Reading) bool { return r.rename(dice()) }) {
			continue
		}
		for _, r := range o.Readings {
			if r.Match == nil {
				r.Match = o.matcher.Match(r.column)
			}
			r.rename(dice())
		}
		o.Growth.span(blocksOf(o.Readings, func(r *Reading) (float64, bool) { return r.other.Mulm, true }))
		o.Shift.span(blocksOf(o.Readings, func(r *Reading) (float64, bool) { return r.other.Oxic, r.other.basis != reports.NotReached }))
	}
}

// rename draws other names for a reading's layers and reports whether they change its profile.
func (r *Reading) rename(dice *dice) bool {
	names := make([]palette.Band, len(r.Names))
	r.Match.Sample(dice.Rand, names)
	r.other = newProfile(r.Edges, names, 0.5)
	return r.other.Mulm != r.Named.Mulm || r.other.Oxic != r.Named.Oxic || r.other.basis != r.Named.basis
}

// span widens the limits to include the slope of other blocks.
func (r *Rate) span(blocks []stats.Block) {
	if r == nil {
		return
	}
	var all []float64
	for _, b := range blocks {
		all = stats.AppendSlopes(all, b)
	}
	if len(all) > 0 {
		slope := stats.Quantile(all, 0.5)
		r.Low, r.High = min(r.Low, slope), max(r.High, slope)
	}
}
