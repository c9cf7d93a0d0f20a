package reports

import (
	"cmp"
	"slices"

	"panecore/layers"
	"panecore/palette"
)

// sameTimeDays is how far apart two stations may be read and still speak of one
// time, days (the project's definition).
const sameTimeDays = 7

// outlook is one tank, read: all that the draws and the rules stand on.
type outlook struct {
	*facts
	tank     layers.Tank
	matcher  *palette.Matcher
	readings []*reading // all, by date and station
	newest   []*reading // those that carry the estimates, by station
	growth   *rate      // of the mulm; nil: not known
	shift    *rate      // of the front; nil: not known
	mulm     Estimate
	oxic     Estimate
	black    Estimate // thickness of the black zone
	ammonia  Estimate // meaningful where the test tells it
	bottom   Estimate // meaningful where chemistry is not nil

	chemistry *chemistry // nil: missing says what it lacks
	missing   []string
	altitudeM float64
	safe      safeShares
	unsure    unsure
	amiss     bool              // a limit is passed, or something else is told to be amiss
	never     map[Method]vetoed // whatever the numbers
}

// safeShares are the largest shares of the floor that stay within the limits in 95 % of
// the draws; 1 where that is not known.
type safeShares struct{ stir, siphon, siphonAerated float64 }

// newOutlook reads a tank's records up to the day that it is judged as of.
func newOutlook(tank layers.Tank, s Settings) *outlook {
	asOf := s.asOf(tank)
	tank = asOfDay(tank, asOf)
	o := &outlook{
		facts: newFacts(tank, asOf, s.Units), tank: tank, altitudeM: s.AltitudeM, safe: safeShares{1, 1, 1},
	}
	o.matcher = NewMatcher(tank, s.own(tank.ID))
	cores := slices.Clone(tank.Cores)
	slices.SortStableFunc(cores, func(a, b layers.Core) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Station, b.Station))
	})
	for _, core := range cores {
		r := newReading(core, o.matcher)
		r.segment = segmentOf(tank.Events, core.Date)
		o.readings = append(o.readings, r)
	}
	o.doubtSlips()
	o.newest = newestOfEach(o.readings)
	for _, r := range o.newest {
		r.match = o.matcher.Match(r.column)
		if lean := r.leansOn(); lean != nil {
			lean.match = o.matcher.Match(lean.column)
		}
	}
	o.shift = rateOf(blocksOf(o.readings, frontOf))
	o.growth = rateOf(blocksOf(o.readings, mulmOf))
	o.doubtNames(s.Seed)
	if o.growth == nil && len(o.newest) > 0 {
		o.growth = sinceSetUp(o.newest, o.ageDays)
	}
	return o
}

// NewMatcher tells what colours mean in a tank, with the keeper's own prototypes.
func NewMatcher(tank layers.Tank, own []palette.Prototype) *palette.Matcher {
	baselines := make([]palette.Baseline, len(tank.Native))
	for i, n := range tank.Native {
		baselines[i] = palette.Baseline{Kind: string(n.Kind), Color: n.Color}
	}
	return palette.NewMatcher(baselines, own)
}

// newestOfEach is each station's newest reading, where it lies within
// sameTimeDays of the newest of all, in the order of stations.
func newestOfEach(readings []*reading) []*reading {
	if len(readings) == 0 {
		return nil
	}
	last := readings[len(readings)-1].core.Date
	var newest []*reading
	for i := len(readings) - 1; i >= 0 && last-readings[i].core.Date <= sameTimeDays; i-- {
		station := readings[i].core.Station
		if !slices.ContainsFunc(newest, func(r *reading) bool { return r.core.Station == station }) {
			newest = append(newest, readings[i])
		}
	}
	slices.SortFunc(newest, func(a, b *reading) int { return cmp.Compare(a.core.Station, b.core.Station) })
	return newest
}

// placesOver names the stations whose mulm, as read, is over its limit while the mean of all
// is not; empty: none.
func (o *outlook) placesOver() string {
	limit, sum := o.limits[layers.LimitMulm].value, 0.0
	var list []string
	for _, r := range o.newest {
		sum += r.named.mulm / float64(len(o.newest))
		if r.named.mulm > limit {
			list = append(list, r.core.Station+" "+o.besideLength(r.named.mulm, layers.LimitMulm))
		}
	}
	if sum > limit {
		return ""
	}
	return listed(list)
}
