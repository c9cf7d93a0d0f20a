package trend

import (
	"math"
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
	leastDrop   = 5.0  // mm
	dropError   = 1.5  // how far a reading strays from level, beside growth, mm
	dropClear   = 3.0  // how many times likelier than none a drop must be
	dropWindow  = 2    // readings on either side that are compared
	mostOfDrops = 24   // in one record
)

// Drops finds removals that nobody entered, the first first. Of every pair of neighbouring days, each
// station's last readings before and first ones after are compared under two hypotheses, that all of
// them stand at one level, growth aside, and that the later stand lower, with any of them perhaps a
// slip. A drop that shows in a single reading is none: that may be a slip as well.
func Drops(r *Record) []Drop {
	if len(r.Readings) == 0 {
		return nil
	}
	by := r.byStation()
	growth := r.usualGrowth(by)
	bounds := slices.Clone(r.Removals)
	var found []Drop
	for len(found) < mostOfDrops {
		drop, sure := r.clearest(by, growth, bounds)
		if !sure {
			break
		}
		found = append(found, drop)
		at, _ := slices.BinarySearch(bounds, drop.After)
		bounds = slices.Insert(bounds, at, drop.After)
	}
	slices.SortFunc(found, func(a, b Drop) int { return int(math.Copysign(1, a.After-b.After)) })
	return found
}

// clearest is the likeliest drop between two days that no removal parts yet.
func (r *Record) clearest(by [][]int, growth float64, bounds []float64) (drop Drop, sure bool) {
	gaps := map[float64]bool{}
	for _, list := range by {
		for k := 1; k < len(list); k++ {
			a, b := r.Readings[list[k-1]], r.Readings[list[k]]
			if b.Y-a.Y-growth*(b.T-a.T) < 1-leastDrop && !parted(bounds, a.T, b.T) {
				gaps[a.T] = true
			}
		}
	}
	best := math.Log(dropClear)
	for _, after := range sorted(gaps) {
		odds := math.Log(usualDrop)
		found := Drop{After: after, Until: math.Inf(1)}
		for s, list := range by {
			k, at := slices.BinarySearchFunc(list, after, func(i int, t float64) int { return int(math.Copysign(1, r.Readings[i].T-t)) })
			_ = at
			for k < len(list) && r.Readings[list[k]].T <= after {
				k++
			}
			if k == 0 || k == len(list) || parted(bounds, r.Readings[list[k-1]].T, r.Readings[list[k]].T) {
				continue
			}
			factor, size := r.fall(list, k, growth, bounds)
			odds += math.Log((1-untouched)*factor + untouched)
			if factor > 1 && size > found.Size {
				found.Size, found.Station, found.Until = size, s, r.Readings[list[k]].T
			}
		}
		if odds > best && found.Size > leastDrop {
			best, drop, sure = odds, found, true
		}
	}
	return drop, sure
}

// parted reports a bound from one time up to, but not including, another.
func parted(bounds []float64, from, until float64) bool {
	n, _ := slices.BinarySearch(bounds, from)
	return n < len(bounds) && bounds[n] < until
}

func sorted(set map[float64]bool) (list []float64) {
	for t := range set {
		list = append(list, t)
	}
	slices.Sort(list)
	return list
}

// fall is how many times likelier a station's readings about the k-th are if the bed was lowered just
// before it, and by how much.
func (r *Record) fall(list []int, k int, growth float64, bounds []float64) (factor, size float64) {
	from, until := k, k
	for from > max(0, k-dropWindow) && !parted(bounds, r.Readings[list[from-1]].T, r.Readings[list[min(from, len(list)-1)]].T) {
		from--
	}
	for until < min(len(list), k+dropWindow) && (until == k || !parted(bounds, r.Readings[list[until-1]].T, r.Readings[list[until]].T)) {
		until++
	}
	var level []float64
	var slip []float64
	for _, i := range list[from:until] {
		level = append(level, r.Readings[i].Y-growth*(r.Readings[i].T-r.Readings[list[k]].T))
		slip = append(slip, max(usualSlip, r.Readings[i].Slip))
	}
	before := k - from
	var same, fallen float64
	for sound := range 1 << len(level) {
		weight := 1.0
		var all, left, right group
		for n, y := range level {
			if sound&(1<<n) == 0 {
				weight *= slip[n] / slipRange
				continue
			}
			weight *= 1 - slip[n]
			all.add(y)
			if n < before {
				left.add(y)
			} else {
				right.add(y)
			}
		}
		same += weight * all.likelihood()
		apart := weight * left.likelihood() * right.likelihood()
		if left.n == 0 || right.n == 0 || left.mean()-right.mean() >= leastDrop {
			fallen += apart
		}
	}
	return fallen / same, median(level[:before]) - median(level[before:])
}

// A group is readings of one level.
type group struct{ n, sum, squares float64 }

func (g *group) add(y float64) { g.n, g.sum, g.squares = g.n+1, g.sum+y, g.squares+y*y }

func (g *group) mean() float64 { return g.sum / g.n }

// likelihood is that of readings about one unknown level, anywhere within slipRange.
func (g *group) likelihood() float64 {
	if g.n == 0 {
		return 1
	}
	const variance = dropError * dropError
	about := max(0, g.squares-g.sum*g.sum/g.n)
	return math.Pow(2*math.Pi*variance, -(g.n-1)/2) / math.Sqrt(g.n) * math.Exp(-about/(2*variance)) / slipRange
}
