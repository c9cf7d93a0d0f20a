package trend

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// A filter is a Kalman filter of the model in doc of the package, written apart from it: it goes forward
// in time from event to event, with the state of that moment only, where the package solves all times
// at once. A past moment is smoothed by carrying a copy of it along.
//
// Source: Kalman 1960, J. Basic Eng. 82:35; Anderson & Moore 1979, Optimal Filtering, section 7.2 (from
// memory).
type filter struct {
	decay float64
	mean  *mat.VecDense
	open  *mat.Dense // covariance
	log   float64    // likelihood of the readings so far
	marks int
}

// The state: that of the tank, three numbers for each station, then copies.
const (
	fLevel  = iota // mm, the season aside
	fFading        // the slope that decays, mm a month
	fSteady        // what drift and turn have added to it
	fCos           // of the season
	fSin
	fStations
)

const (
	fOffset = iota // of the station from the tank, mm
	fRate          // of the station beside the tank's, mm a month
	fTaken         // how far below its course removals left it, mm
	fOwn
)

// A moment is a past level of a station that is asked for.
type moment struct {
	station int
	t       float64
}

// filterOf runs through a record: readings with their variances (+Inf: unread), the course under one way.
func filterOf(r *Record, variances []float64, prior spreads, middle float64, way State, turn *Turn, asked []moment) *filter {
	begin, now := r.Readings[0].T, r.Readings[len(r.Readings)-1].T
	n := fStations + fOwn*len(r.Current)
	f := &filter{decay: way.Decay, mean: mat.NewVecDense(n, nil), open: mat.NewDense(n, n, nil), marks: n}
	f.widen(fLevel, 0, 100)
	f.widen(fFading, 0, 3)
	season := 1e-4
	if way.Season {
		season = 1.5
	}
	f.widen(fCos, 0, season)
	f.widen(fSin, 0, season)
	for s := range r.Current {
		at, back := fStations+fOwn*s, begin-now // the offset is that of now
		f.open.Set(at+fOffset, at+fOffset, prior.offset*prior.offset+back*back*prior.rate*prior.rate)
		f.open.Set(at+fOffset, at+fRate, back*prior.rate*prior.rate)
		f.open.Set(at+fRate, at+fOffset, back*prior.rate*prior.rate)
		f.open.Set(at+fRate, at+fRate, prior.rate*prior.rate)
	}

	type event struct {
		t     float64
		order int // of those at one time: what is read first comes first
		do    func()
	}
	var events []event
	add := func(t float64, order int, do func()) { events = append(events, event{t, order, do}) }
	for i, reading := range r.Readings {
		if !math.IsInf(variances[i], 1) {
			add(reading.T, 0, func() { f.read(f.sight(reading.Station, reading.T), reading.Y-middle, variances[i]) })
		}
	}
	for _, m := range asked {
		add(m.t, 0, func() { f.mark(f.sight(m.station, m.t)) })
	}
	for s := range r.Current {
		last := math.NaN()
		for _, reading := range r.Readings {
			if reading.Station != s {
				continue
			}
			removed := math.Inf(-1)
			for _, removal := range r.Removals {
				if last <= removal && removal < reading.T {
					removed = removal
				}
			}
			if !math.IsInf(removed, -1) {
				add(removed, 1, func() { f.widen(fStations+fOwn*s+fTaken, 0, prior.taken) })
			}
			last = reading.T
		}
	}
	before := begin
	for _, knot := range knotsOf(begin, now) {
		deviation := max(1e-4, way.Drift*math.Sqrt(knot-before))
		add(knot, 2, func() { f.widen(fSteady, 0, deviation) })
		before = knot
	}
	switch {
	case turn != nil && turn.Step:
		add(turn.At, 2, func() { f.widen(fLevel, turn.Mean, turn.Spread) })
	case turn != nil:
		add(turn.At, 2, func() { f.widen(fSteady, turn.Mean, turn.Spread) })
	}
	slices.SortStableFunc(events, func(a, b event) int {
		return cmp.Or(cmp.Compare(a.t, b.t), cmp.Compare(a.order, b.order))
	})
	at := begin
	for _, e := range events {
		f.advance(e.t - at)
		e.do()
		at = e.t
	}
	f.advance(now - at)
	return f
}

// widen adds a normal step of its own to one number of the state.
func (f *filter) widen(i int, mean, deviation float64) {
	f.mean.SetVec(i, f.mean.AtVec(i)+mean)
	f.open.Set(i, i, f.open.At(i, i)+deviation*deviation)
}

func (f *filter) size() int { return f.mean.Len() }

// advance lets time pass.
func (f *filter) advance(months float64) {
	if months == 0 {
		return
	}
	way := mat.NewDense(f.size(), f.size(), nil)
	for i := range f.size() {
		way.Set(i, i, 1)
	}
	fade, reach := math.Exp(-f.decay*months), months
	if f.decay > 0 {
		reach = (1 - fade) / f.decay
	}
	way.Set(fLevel, fFading, reach)
	way.Set(fLevel, fSteady, months)
	way.Set(fFading, fFading, fade)
	for at := fStations; at < f.marks; at += fOwn {
		way.Set(at+fOffset, at+fRate, months)
		way.Set(at+fTaken, at+fTaken, fade)
	}
	f.through(way)
}

// through passes the state through a matrix.
func (f *filter) through(way *mat.Dense) {
	mean, half, open := new(mat.VecDense), new(mat.Dense), new(mat.Dense)
	mean.MulVec(way, f.mean)
	half.Mul(way, f.open)
	open.Mul(half, way.T())
	f.mean, f.open = mean, open
}

// sight is what is seen at a station at a time.
func (f *filter) sight(station int, t float64) *mat.VecDense {
	seen := mat.NewVecDense(f.size(), nil)
	seen.SetVec(fLevel, 1)
	seen.SetVec(fCos, math.Cos(math.Pi*t/6))
	seen.SetVec(fSin, math.Sin(math.Pi*t/6))
	seen.SetVec(fStations+fOwn*station+fOffset, 1)
	seen.SetVec(fStations+fOwn*station+fTaken, -1)
	return seen
}

// pace is how fast a station changes, the season aside.
func (f *filter) pace(station int) *mat.VecDense {
	seen := mat.NewVecDense(f.size(), nil)
	seen.SetVec(fFading, 1)
	seen.SetVec(fSteady, 1)
	seen.SetVec(fStations+fOwn*station+fRate, 1)
	seen.SetVec(fStations+fOwn*station+fTaken, f.decay)
	return seen
}

// read takes a reading in.
func (f *filter) read(seen *mat.VecDense, y, variance float64) {
	gain := new(mat.VecDense)
	gain.MulVec(f.open, seen)
	total := mat.Dot(seen, gain) + variance
	off := y - mat.Dot(seen, f.mean)
	f.log -= (math.Log(2*math.Pi*total) + off*off/total) / 2
	f.mean.AddScaledVec(f.mean, off/total, gain)
	f.open.RankOne(f.open, -1/total, gain, gain)
}

// mark carries a sum of the state along as it is at this moment.
func (f *filter) mark(seen *mat.VecDense) {
	n := f.size()
	way := mat.NewDense(n+1, n, nil)
	for i := range n {
		way.Set(i, i, 1)
		way.Set(n, i, seen.AtVec(i))
	}
	f.through(way)
}

// copies is one of the marks.
func (f *filter) copies(k int) *mat.VecDense {
	seen := mat.NewVecDense(f.size(), nil)
	seen.SetVec(f.marks+k, 1)
	return seen
}

// value is the mean of a sum of the state.
func (f *filter) value(seen *mat.VecDense) float64 { return mat.Dot(seen, f.mean) }

// shared is the covariance of two.
func (f *filter) shared(a, b *mat.VecDense) float64 { return mat.Inner(a, f.open, b) }

// sortedMoments are moments in the order in which a filter marks them.
func sortedMoments(moments []moment) []moment {
	sorted := slices.Clone(moments)
	slices.SortStableFunc(sorted, func(a, b moment) int { return cmp.Compare(a.t, b.t) })
	return sorted
}
