package infer

import (
	"math"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/stats"
	"panecore/reports/trend"
)

// Rate is how fast a thickness or depth changes now, mm a month, and what that rests on.
type Rate struct {
	reports.Estimate
	PerStation []StationRate // where the stations disagree
	SpanDays   int           // from the first reading used to the last
	months     float64       // of a rate since set-up: the tank's age; else zero
}

// StationRate is a station's own rate, mm a month.
type StationRate struct {
	Station string
	Rate    float64
}

// A course is one quantity of a tank along time: its fit, its rate, and what other names of the
// layers would make of the rate.
type course struct {
	fit      *trend.Fit // nil: it was never read
	rate     *Rate      // nil: no station has two readings that show it
	of       func(Profile) (mm float64, read bool)
	at       []int // by reading of the fit, its index among Outlook.Readings
	removals []float64
	names    []float64 // mm a month to add to the rate, one for each way to name the record; empty: no name is in doubt
}

// LeastApart is how far apart readings must be to show growth, days (assumption: a fortnight's
// growth is about a millimetre, no more than a spot strays by itself).
const LeastApart = 14

// doubtfulReading is how likely a reading in doubt is a slip (assumption: as likely as not).
const doubtfulReading = 0.5

// monthsOf is a day on the scale of the trends, months from the first reading.
func (o *Outlook) monthsOf(day layers.Date) float64 { return o.Readings[0].Core.Date.Months(day) }

// dayOf is monthsOf backwards.
func (o *Outlook) dayOf(months float64) layers.Date {
	return o.Readings[0].Core.Date + layers.Date(math.Round(months*layers.DaysPerMonth))
}

// record is what was read of one quantity, with the removals that hold for it; at are the readings.
func (o *Outlook) record(of func(Profile) (float64, bool), removals []float64) (r *trend.Record, at []int) {
	r = &trend.Record{Current: make([]bool, len(o.stations)), Removals: removals}
	for i, reading := range o.Readings {
		y, read := of(reading.Settled)
		if !read {
			continue
		}
		slip := 0.0
		if !reading.Sound() && reading.Slip != reports.SlipRemoval {
			slip = doubtfulReading
		}
		station, _ := slices.BinarySearch(o.stations, reading.Core.Station)
		r.Readings = append(r.Readings, trend.Reading{T: o.monthsOf(reading.Core.Date), Station: station, Y: y, Error: reading.edgeError(y), Slip: slip})
		at = append(at, i)
	}
	for _, reading := range o.Newest {
		station, _ := slices.BinarySearch(o.stations, reading.Core.Station)
		r.Current[station] = true
	}
	return r, at
}

// edgeError is how well a photo shows the edge at a depth, mm, standard deviation; a ruler's error is
// part of what a spot strays by.
func (r *Reading) edgeError(depth float64) float64 {
	if r.Core.Photo == nil {
		return 0
	}
	for i, edge := range r.Edges {
		if edge == depth {
			return math.Hypot(r.errors[i], r.errors[0])
		}
	}
	return readingError
}

// follow works out how mulm and front have gone so far.
func (o *Outlook) follow(seed uint64) {
	if len(o.Readings) == 0 {
		return
	}
	o.settle()
	for _, r := range o.Readings {
		if i, known := slices.BinarySearch(o.stations, r.Core.Station); !known {
			o.stations = slices.Insert(o.stations, i, r.Core.Station)
		}
	}
	for _, day := range o.worked {
		o.entered = append(o.entered, o.monthsOf(day))
	}
	var raised []float64 // when the bed was made thicker: its front then lies elsewhere beside the floor
	for _, e := range o.Tank.Events {
		if e.Kind == layers.EventTopUpSubstrate {
			raised = append(raised, o.monthsOf(e.Date))
		}
	}
	removals := slices.Concat(o.entered, o.findGone())
	slices.Sort(removals)
	o.mulm, o.front = o.courseOf(mulmOf, removals, nil), o.courseOf(frontOf, removals, nil)
	o.Swelling = o.swell()
	var rises *trend.Turn
	if o.Swelling.Odds >= 1 && o.Swelling.Station == "" { // the courses turn with it
		at := o.monthsOf(o.Swelling.Since)
		rises = &trend.Turn{At: at, Mean: -turnMean, Spread: turnOpen}
		o.front = o.courseOf(frontOf, removals, rises)
		o.mulm = o.courseOf(mulmOf, removals, &trend.Turn{At: at, Spread: turnMean}) // it may turn black too
	}
	courses := []*course{o.mulm, o.front}
	if o.seesFloor() {
		o.depth = o.courseOf(fromFloor, raised, rises)
		courses = append(courses, o.depth)
	}
	o.doubtNames(courses, seed)
	for _, c := range courses {
		c.estimate(o, seed)
	}
	o.Growth, o.Shift = o.mulm.rate, o.front.rate
	if o.depth != nil {
		o.FloorShift = o.depth.rate
	}
	if o.Growth == nil {
		o.Growth = sinceSetUp(o.Newest, o.AgeDays)
	}
}

func mulmOf(p Profile) (float64, bool) { return p.Mulm, true }

func frontOf(p Profile) (float64, bool) { return p.Oxic, p.basis != reports.NotReached }

// fromFloor is where the front lies beside the floor, at which the view ends: less the more it rises,
// like its depth.
func fromFloor(p Profile) (float64, bool) { return p.Oxic - p.depth, p.basis != reports.NotReached }

func (o *Outlook) courseOf(of func(Profile) (float64, bool), removals []float64, turn *trend.Turn) *course {
	c := &course{of: of, removals: removals}
	var record *trend.Record
	record, c.at = o.record(of, removals)
	if c.fit = trend.NewTurned(record, turn); c.fit != nil {
		c.rate = o.shown(record)
	}
	return c
}

// shown is what a rate rests on; nil: no station has two readings between two removals that show
// growth.
func (o *Outlook) shown(r *trend.Record) *Rate {
	type place struct {
		first, last float64
		count       int
	}
	at := map[[2]int]*place{}
	rate, longest, first, last := &Rate{}, 0, math.Inf(1), math.Inf(-1)
	rate.Basis = reports.Trend
	for _, reading := range r.Readings {
		if reading.Slip > 0 {
			continue
		}
		segment, _ := slices.BinarySearch(r.Removals, reading.T)
		key := [2]int{reading.Station, segment}
		p := at[key]
		if p == nil {
			at[key] = &place{reading.T, reading.T, 1}
			continue
		}
		if (reading.T-p.last)*layers.DaysPerMonth < LeastApart-0.5 {
			continue
		}
		if p.last, p.count = reading.T, p.count+1; p.count == 2 {
			rate.Readings++
		}
		rate.Readings++
		longest, first, last = max(longest, p.count), min(first, p.first), max(last, p.last)
	}
	switch longest {
	case 0:
		return nil
	case 2:
		if rate.Readings <= 2*len(o.stations) { // not many pairs, parted by removals
			rate.Basis = reports.TwoReadings
		}
	}
	rate.SpanDays = int(math.Round((last - first) * layers.DaysPerMonth))
	return rate
}

// Rates of stations count as different only if they are further apart than both (assumptions: less is of no
// use to a keeper).
const (
	leastDiffer      = 0.3 // mm a month
	leastDifferShare = 0.25
)

// rateDraws is from how many draws a rate has its range (assumption: enough for two digits).
const rateDraws = 1000

// estimate gives the rate its numbers.
func (c *course) estimate(o *Outlook, seed uint64) {
	if c.rate == nil {
		return
	}
	rng := newDice(seed, o.Tank.ID, "rates")
	draws := make([]float64, rateDraws)
	for n := range draws {
		rng.begin(n)
		draws[n] = c.draw(rng.chances()).Rate
	}
	e := stats.Spread(draws)
	c.rate.Value, c.rate.Low, c.rate.High = e.Value, e.Low, e.High
	if c.fit.Differ && slices.Max(c.fit.Apart)-slices.Min(c.fit.Apart) > max(leastDiffer, leastDifferShare*math.Abs(e.Value)) {
		for i, apart := range c.fit.Apart {
			c.rate.PerStation = append(c.rate.PerStation, StationRate{o.stations[i], e.Value + apart})
		}
	}
}

// draw is a possible truth about the course, with one of the ways to name the layers.
func (c *course) draw(by chances) trend.Now {
	now := c.fit.Draw(by.Deviates)
	if n := len(c.names); n > 0 {
		of := c.names[min(n-1, int(by.name*float64(n)))]
		now.Rate, now.Ahead = now.Rate+of, now.Ahead+of
	}
	return now
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

// ever is a rate since set-up in one draw: that mulm, mm, divided by the age, times how uneven z makes
// the growth.
func (r *Rate) ever(mulm, z float64) float64 {
	return mulm / r.months * math.Exp(z/stats.Z90*math.Log(sinceSetUpFactor))
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

// renamed is what the readings' other names add to the rate, mm a month: the slope, by least squares,
// of the differences that they make.
func (c *course) renamed(o *Outlook) float64 {
	var n, t, y, tt, ty float64
	for k, i := range c.at {
		r := o.Readings[i]
		other, read := c.of(r.other)
		if !read {
			continue
		}
		named, _ := c.of(r.Settled)
		sound, at := c.fit.Sound[k], o.monthsOf(r.Core.Date)
		n, t, y, tt, ty = n+sound, t+sound*at, y+sound*(other-named), tt+sound*at*at, ty+sound*at*(other-named)
	}
	if spread := n*tt - t*t; spread > 1e-6 {
		return (n*ty - t*y) / spread
	}
	return 0
}
