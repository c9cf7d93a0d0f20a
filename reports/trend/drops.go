package trend

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// Drop is a removal that nobody entered: between two readings the quantity falls and stays down.
type Drop struct {
	After, Until float64 // the readings on either side, months
	Size         float64 // mm
	Station      int     // where it fell furthest
}

// What is thought of removals that are not entered (assumptions).
const (
	usualDrop   = 0.02 // how likely there is one between two readings
	untouched   = 0.2  // how likely it left a station alone
	dropClear   = 3.0  // how many times likelier than none a drop must be
	dropMean    = 15.0 // how much goes, mm, with its standard deviation
	dropSpread  = 12.0
	turnSpread  = 0.8 // how far the slope about a reading may differ from the usual, mm a month
	dropWindow  = 3   // readings on either side that are compared
	dropSlips   = 2   // of them, at most, that may be slips
	suspectAll  = 2.5 // by how much the stations' mean must fall for a drop to be looked into, mm
	suspectOne  = 5.0 // or one of them
	mostOfDrops = 400 // in one record
)

// Drops finds removals that nobody entered, the first first. Of every pair of neighbouring days, each
// station's last readings before and first ones after are compared under two hypotheses, that all of
// them lie on one slope, and that the later lie lower, with any of them perhaps a slip. A drop that
// shows in a single reading is none: that may be a slip as well.
func Drops(r *Record) []Drop {
	if len(r.Readings) == 0 {
		return nil
	}
	by := r.byStation()
	s := search{Record: r, by: by, growth: r.usualGrowth(by), straying: r.straying(by), bounds: slices.Clone(r.Removals), weighed: map[float64]suspect{}}
	var found []Drop
	for gaps := s.gaps(); len(found) < mostOfDrops; {
		best := suspect{odds: math.Log(dropClear)}
		for _, after := range gaps {
			if one := s.weigh(after); one.odds > best.odds && one.Size > 0 {
				best = one
			}
		}
		if best.Size == 0 {
			break
		}
		found = append(found, best.Drop)
		s.part(best.After)
	}
	slices.SortFunc(found, func(a, b Drop) int { return cmp.Compare(a.After, b.After) })
	return found
}

// A search is for the drops of a record.
type search struct {
	*Record
	by               [][]int
	growth, straying float64
	bounds           []float64           // removals entered and drops found
	weighed          map[float64]suspect // by the time before them
}

// A suspect is a possible drop with the logarithm of its odds.
type suspect struct {
	Drop
	odds float64
}

// gaps are the times after which the stations fall by more than growth and straying explain.
func (s *search) gaps() (list []float64) {
	type fall struct{ sum, count, most float64 }
	falls := map[float64]*fall{}
	for _, own := range s.by {
		for k := 1; k < len(own); k++ {
			a, b := s.Readings[own[k-1]], s.Readings[own[k]]
			f := falls[a.T]
			if f == nil {
				f = &fall{}
				falls[a.T] = f
			}
			fell := a.Y + s.growth*(b.T-a.T) - b.Y
			f.sum, f.count, f.most = f.sum+max(-2*suspectOne, min(2*suspectOne, fell)), f.count+1, max(f.most, fell)
		}
	}
	for after, f := range falls {
		if f.most > suspectOne || f.sum > suspectAll*f.count {
			list = append(list, after)
		}
	}
	slices.Sort(list)
	return list
}

// weigh weighs a drop after a time.
func (s *search) weigh(after float64) suspect {
	if one, known := s.weighed[after]; known {
		return one
	}
	one := suspect{Drop{After: after, Until: math.Inf(1)}, math.Log(usualDrop)}
	for station, own := range s.by {
		k := s.next(own, after)
		if k == 0 || k == len(own) || parted(s.bounds, s.Readings[own[k-1]].T, s.Readings[own[k]].T) {
			continue
		}
		factor, size := s.fall(own, k, s.growth, s.straying, s.bounds)
		one.odds += math.Log((1-untouched)*factor + untouched)
		if factor > 1 && size > one.Size {
			one.Size, one.Station, one.Until = size, station, s.Readings[own[k]].T
		}
	}
	s.weighed[after] = one
	return one
}

// next is the place of a station's first reading after a time.
func (s *search) next(own []int, after float64) int {
	k, _ := slices.BinarySearchFunc(own, after, func(i int, t float64) int { return cmp.Compare(s.Readings[i].T, t) })
	for k < len(own) && s.Readings[own[k]].T <= after {
		k++
	}
	return k
}

// part takes a drop as found: those nearby have to be weighed anew.
func (s *search) part(after float64) {
	at, _ := slices.BinarySearch(s.bounds, after)
	s.bounds = slices.Insert(s.bounds, at, after)
	from, until := after, after
	for _, own := range s.by {
		if len(own) == 0 {
			continue
		}
		k := s.next(own, after)
		from = min(from, s.Readings[own[max(0, k-dropWindow-1)]].T)
		until = max(until, s.Readings[own[min(len(own)-1, k+dropWindow)]].T)
	}
	for t := range s.weighed {
		if from <= t && t <= until {
			delete(s.weighed, t)
		}
	}
}

// parted reports a bound from one time up to, but not including, another.
func parted(bounds []float64, from, until float64) bool {
	n, _ := slices.BinarySearch(bounds, from)
	return n < len(bounds) && bounds[n] < until
}

// straying is how far a reading strays from its neighbours, growth aside, mm: from the median, so
// that neither slips nor drops count.
func (r *Record) straying(by [][]int) float64 {
	growth := r.usualGrowth(by)
	var off []float64
	for _, list := range by {
		for k := 1; k < len(list); k++ {
			a, b := r.Readings[list[k-1]], r.Readings[list[k]]
			off = append(off, math.Abs(b.Y-a.Y-growth*(b.T-a.T)))
		}
	}
	const madToDeviation = 1.4826 // of a normal distribution, 1/Φ⁻¹(3/4)
	n := float64(len(off))
	shown := madToDeviation * median(off) / math.Sqrt2
	return max(leastError, math.Sqrt((freedomPrior*spotError*spotError+n*shown*shown)/(freedomPrior+n)))
}

// fall is how many times likelier a station's readings about the k-th are if the bed was lowered just
// before it, and by how much.
func (r *Record) fall(list []int, k int, growth, straying float64, bounds []float64) (factor, size float64) {
	from, until := k-1, k+1
	for from > max(0, k-dropWindow) && !parted(bounds, r.Readings[list[from-1]].T, r.Readings[list[from]].T) {
		from--
	}
	for until < min(len(list), k+dropWindow) && !parted(bounds, r.Readings[list[until-1]].T, r.Readings[list[until]].T) {
		until++
	}
	about := r.Readings[list[k]]
	near := make([]near, until-from)
	var before, after []float64
	for n := range near {
		reading := r.Readings[list[from+n]]
		near[n].months, near[n].slip = reading.T-about.T, max(usualSlip, reading.Slip)
		near[n].mm = reading.Y - about.Y - growth*near[n].months
		if near[n].earlier = from+n < k; near[n].earlier {
			before = append(before, near[n].mm)
		} else {
			after = append(after, near[n].mm)
		}
	}
	var same, fallen float64
	for slips := range 1 << len(near) {
		if bits.OnesCount(uint(slips)) <= dropSlips {
			same += likelihood(near, slips, straying, false)
			fallen += likelihood(near, slips, straying, true)
		}
	}
	return fallen / same, median(before) - median(after)
}

// near is a reading about a drop: how far from it and how much higher, growth aside.
type near struct {
	months, mm float64
	slip       float64
	earlier    bool
}

// likelihood is that of readings on one slope, perhaps with a drop, some of them slips: the rest of
// them normal about a level, a turn of the slope and a drop, each normal before anything is read.
func likelihood(list []near, slips int, straying float64, dropped bool) float64 {
	e := newEquations(3)
	e.matrix[0], e.matrix[4], e.matrix[8] = 1/(levelPrior*levelPrior), 1/(turnSpread*turnSpread), 1/(dropSpread*dropSpread)
	log, weight := math.Log(e.matrix[0]*e.matrix[4]*e.matrix[8])/2, 1/(straying*straying)
	var right [3]float64
	for n, at := range list {
		if slips&(1<<n) != 0 {
			log += math.Log(at.slip / slipRange)
			continue
		}
		mm, row := at.mm, [3]float64{1, at.months, 0}
		if dropped && at.earlier {
			mm, row[2] = mm-dropMean, 1
		}
		e.add(weight, row[:])
		for i, x := range row {
			right[i] += weight * mm * x
		}
		log += math.Log(1-at.slip) + logNormal(mm, straying*straying)
	}
	e.factor()
	e.forward(right[:])
	return math.Exp(log - e.logDet/2 + dot(right[:], right[:])/2)
}
